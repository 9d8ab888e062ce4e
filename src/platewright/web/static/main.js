// @ts-check
/** Start the page: state, server, views. */

import { asked, client, get, key, Refused } from "./api.js";
import { hear, hearCompared, hearPlan, makeActions, mountLateNews } from "./actions.js";
import { byId, el } from "./dom.js";
import { mountKeys } from "./keys.js";
import { openLive } from "./live.js";
import { firstState, makeStore, told, withWords } from "./store.js";
import { mountBeside } from "./view/beside.js";
import { mountBlock } from "./view/block.js";
import { mountColumn } from "./view/column.js";
import { mountHead } from "./view/head.js";
import { mountLay } from "./view/lay.js";
import { mountList } from "./view/list.js";
import { mountNotes, note } from "./view/notes.js";
import { mountPhoto } from "./view/photo.js";
import { mountPlan } from "./view/plan.js";
import { mountPlate } from "./view/plate.js";
import { mountPointer } from "./view/pointer.js";
import { mountSheets } from "./view/sheets.js";
import { mountTicket } from "./view/ticket.js";
import { mountTools } from "./view/tools.js";
import { mountTrace } from "./view/trace.js";
import { mountTray } from "./view/tray.js";

const store = makeStore(firstState());
const actions = makeActions(store, note);
mountNotes(store, actions);
const plate = mountPlate(store);
mountHead(store, actions, mountPlan(store, actions));
mountColumn(store, actions);
mountTicket(store, actions);
mountBlock(store);
mountBeside(store);
const keys = mountKeys(store, actions, plate, mountLay(store, actions, plate));
const lists = el("div", { class: "page-list" });
const sheets = el("div", { class: "page-sheets" });
byId("pages").append(lists, sheets);
mountList(store, actions, lists);
mountSheets(store, actions, sheets);
store.listen(({ stage }) => {
  lists.hidden = stage !== "list";
  sheets.hidden = stage !== "build";
}, "stage");
mountTools(store, { zoom: keys.zoom, fit: plate.fit, photo: mountPhoto(store, actions, mountTrace(store, actions, plate.picture)) });
mountLateNews(store, note);
document.querySelector(".skip")?.addEventListener("click", (event) => {
  event.preventDefault(); // the address keeps the key of this start
  plate.picture.focus();
});

begin();

async function begin() {
  try {
    const all = await asked;
    store.hushed(() => {
      store.set({ job: all.job, ...told(store.state, all.state), checked: withWords(all.checked) });
      if (all.plan) hearPlan(store, all.plan);
      if (all.compared) hearCompared(store, all.compared);
      plate.fit();
    });
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    byId("sheet").replaceChildren(el("p", { class: "sorry" }, error.message,
      " Start the page from a terminal: platewright open JOB"));
    return;
  }
  const live = openLive(key, (message) => {
    if (message.by !== client || message.type !== "state") hear(store, message, note);
  }, (connected) => {
    store.set({ connected });
    if (connected) catchUp();
  }, () => (store.state.layers.warmth ? store.state.warm : ""));
  mountPointer(store, actions, live, plate);
  mountTray(store, actions, live, plate);
  keys.follow(live);
  store.tellAll(); // every part draws itself once from the state as it is
  requestAnimationFrame(() => requestAnimationFrame(() => performance.mark("plate-drawn")));
  actions.photo();
  addEventListener("beforeunload", keys.flush);
  document.body.dataset.ready = "yes";
}

/** What happened while the line was down, or was not up yet. */
async function catchUp() {
  try {
    const hello = await get("hello");
    const { server, checked } = store.state;
    if (server?.revision === hello.revision && (hello.checked === null || checked?.revision === hello.checked)) return;
    const all = await get("job");
    store.set({ job: all.job, ...told(store.state, all.state), checked: withWords(all.checked) ?? store.state.checked });
  } catch (error) {
    actions.say(error);
  }
}

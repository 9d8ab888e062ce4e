// @ts-check
/**
 * The live channel: one socket, one question under way, the newest position wins. Answers that
 * come after a newer one are dropped.
 */

/**
 * @param {string} key @param {(message: any) => void} hear @param {(connected: boolean) => void} state
 * @param {() => string} heat which view of heat is to follow; blank: none
 */
export function openLive(key, hear, state, heat) {
  /** @type {WebSocket | null} */
  let socket = null;
  let number = 0;
  let heard = 0;
  let dropped = 0;
  let busy = false;
  /** @type {{ tags: string[], at: [number, number][] } | null} */
  let waiting = null;
  let pause = 500;

  function connect() {
    const here = new WebSocket(`ws://${location.host}/live`);
    socket = here;
    here.onopen = () => {
      here.send(JSON.stringify({ key }));
      busy = false;
      pause = 500;
      state(true);
    };
    here.onmessage = (event) => {
      const message = JSON.parse(event.data);
      if (message.type === "warm" && message.n <= dropped) return undefined;
      if (message.type !== "live") return hear(message);
      busy = false;
      if (message.n > heard) {
        heard = message.n;
        hear(message);
      }
      flush();
    };
    here.onclose = () => {
      state(false);
      setTimeout(connect, pause);
      pause = Math.min(pause * 2, 8000);
    };
  }

  function flush() {
    if (!waiting || busy || socket?.readyState !== WebSocket.OPEN) return;
    busy = true;
    number += 1;
    socket.send(JSON.stringify({ type: "drag", n: number, heat: heat(), ...waiting }));
    waiting = null;
  }

  connect();
  return {
    /** @param {string[]} tags @param {[number, number][]} at */
    drag(tags, at) {
      waiting = { tags, at };
      flush();
    },
    /** Forget what was asked: the hand has let go. */
    still() {
      waiting = null;
      heard = dropped = number;
    },
  };
}

// @ts-check
/** The only place that asks the server. Errors come back in one shape: problem, where, cure. */

/** @import { Trouble, Fault } from "./types.js" */

export class Refused extends Error {
  /** @param {Trouble & { faults?: Fault[] }} trouble */
  constructor(trouble) {
    super(`${trouble.where}: ${trouble.problem}. ${trouble.cure}`);
    this.trouble = trouble;
    this.faults = trouble.faults ?? [];
  }
}

/** The key of this start, from the address the terminal told. */
export const key = new URLSearchParams(location.hash.slice(1)).get("key") ?? "";

/** This page among several on one job. */
export const client = crypto.randomUUID();

/** @param {string} path @param {RequestInit} [more] @returns {Promise<Response>} */
async function ask(path, more = {}) {
  const headers = { "X-Platewright-Key": key, ...more.headers };
  let answer;
  try {
    answer = await fetch(`/api/${path}`, { ...more, headers });
  } catch {
    throw new Refused({
      where: "server", problem: "does not answer", cure: "Start it again: platewright open",
    });
  }
  if (!answer.ok) throw new Refused(await answer.json());
  return answer;
}

/** @param {string} path @returns {Promise<any>} */
export async function get(path) {
  return (await ask(path)).json();
}

/** @param {string} path @returns {Promise<Blob>} */
export async function getFile(path) {
  return (await ask(path)).blob();
}

/** @param {string} path @param {object} [body] @returns {Promise<any>} */
export async function post(path, body = {}) {
  const headers = { "content-type": "application/json" };
  return (await ask(path, { method: "POST", headers, body: JSON.stringify(body) })).json();
}

/** All a page needs to begin: asked for while the other modules are still on their way. */
export const asked = get("job");
asked.catch(() => {}); // told by whoever waits for it

/** @param {Blob} picture @returns {Promise<any>} */
export async function putPhoto(picture) {
  const headers = { "content-type": picture.type };
  return (await ask("photo", { method: "PUT", headers, body: picture })).json();
}

/** @returns {Promise<any>} */
export async function dropPhoto() {
  const headers = { "content-type": "image/jpeg" };
  return (await ask("photo", { method: "DELETE", headers })).json();
}

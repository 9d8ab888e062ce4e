// @ts-check
/** Make elements. Text goes in as text, never as markup. */

const SVG = "http://www.w3.org/2000/svg";

/**
 * @typedef {string | Node | null | undefined | false} Child
 * @typedef {Record<string, unknown>} Attributes  on… : listener; true: bare attribute; false, null: left out
 */

/** @param {Element} node @param {Attributes} attributes */
export function set(node, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on") && typeof value === "function") {
      node.addEventListener(name.slice(2), /** @type {EventListener} */ (value));
    } else if (value === false || value === null || value === undefined) {
      node.removeAttribute(name);
    } else {
      node.setAttribute(name, value === true ? "" : String(value));
    }
  }
}

/**
 * An HTML element.
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} name @param {Attributes} [attributes] @param {...Child} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function el(name, attributes = {}, ...children) {
  const node = document.createElement(name);
  set(node, attributes);
  for (const child of children) if (child || child === "") node.append(child);
  return node;
}

/**
 * An SVG element.
 * @template {keyof SVGElementTagNameMap} K
 * @param {K} name @param {Attributes} [attributes] @param {...Child} children
 * @returns {SVGElementTagNameMap[K]}
 */
export function svg(name, attributes = {}, ...children) {
  const node = /** @type {SVGElementTagNameMap[K]} */ (document.createElementNS(SVG, name));
  set(node, attributes);
  for (const child of children) if (child || child === "") node.append(child);
  return node;
}

/** The element of this page with an id. @param {string} id @returns {HTMLElement} */
export function byId(id) {
  const found = document.getElementById(id);
  if (!found) throw new Error(`no element ${id}`);
  return found;
}

/**
 * Keep keyed children in step with a list: made once, changed in place, taken out when gone.
 * @template T
 * @param {Element} parent @param {Map<string, Element>} kept @param {[string, T][]} wanted
 * @param {(key: string, value: T) => Element} make @param {(node: Element, value: T, key: string) => void} change
 */
export function keyed(parent, kept, wanted, make, change) {
  const keys = new Set(wanted.map(([key]) => key));
  for (const [key, node] of kept) {
    if (!keys.has(key)) {
      node.remove();
      kept.delete(key);
    }
  }
  for (const [key, value] of wanted) {
    let node = kept.get(key);
    if (!node) {
      node = make(key, value);
      kept.set(key, node);
      parent.append(node);
    }
    change(node, value, key);
  }
}

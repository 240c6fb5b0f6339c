// Elements and text. Whatever a person or a file gives becomes a text node, never markup.

let count = 0;

/** Return an id that nothing else on the page has. */
export function freshId() {
  count += 1;
  return `part-${count}`;
}

/**
 * Make an element.
 * @param {string} tag
 * @param {Object<string, string | boolean | null | undefined>} [attributes] false, null and undefined are left out
 * @param {...(Node | string | null | undefined | false)} children
 */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== false && value !== null && value !== undefined) {
      element.setAttribute(name, value === true ? "" : value);
    }
  }
  element.append(...children.filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

/** Make a button that does something. */
export function button(text, act, attributes = {}) {
  const element = make("button", { type: "button", ...attributes }, text);
  element.addEventListener("click", act);
  return element;
}

/** A name that somebody gave, in whatever direction its script runs, without turning what stands round it. */
export function named(text) {
  return make("bdi", { class: "named" }, text);
}

/** Make a select. Choices are pairs of a value and what is read. */
export function select(choices, chosen, act, attributes = {}) {
  const element = make("select", attributes);
  for (const [value, text] of choices) {
    element.append(make("option", { value, selected: value === chosen }, text));
  }
  element.addEventListener("change", () => act(element.value));
  return element;
}

/** Make a label with its control under it. */
export function labelled(text, control) {
  control.id = control.id || freshId();
  return make("div", { class: "field" }, make("label", { for: control.id }, text), control);
}

/** Make a table: the names of its columns, and its rows; the first cell of a row is its head. */
export function table(caption, columns, rows) {
  const head =
    columns && make("thead", {}, make("tr", {}, ...columns.map((name) => make("th", { scope: "col" }, name))));
  const body = make("tbody");
  for (const [first, ...others] of rows) {
    body.append(make("tr", {}, make("th", { scope: "row" }, first), ...others.map((cell) => make("td", {}, cell))));
  }
  return make("table", {}, make("caption", {}, caption), head, body);
}

/** Make something to be opened. */
export function disclosure(title, ...children) {
  return make("details", {}, make("summary", {}, title), ...children);
}

// The key, where the service wants one. It stays in memory, and goes with the page.

import { labelled, make } from "./dom.js";

/** Put a field for the key on the page; `use` is called with what was typed. */
export function keyField(holder, use) {
  const input = make("input", { type: "password", autocomplete: "off", spellcheck: "false" });
  const said = make("p", {}, "");
  const form = make("form", { class: "row" }, labelled("Key", input), make("button", {}, "Use this key"));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    if (input.value.trim()) use(input.value.trim());
  });
  holder.append(
    said,
    form,
    make("p", { class: "hint" }, "It is kept while this page is open, and written down nowhere."),
  );
  return {
    ask(text) {
      said.textContent = text;
      holder.hidden = false;
    },
    done() {
      holder.hidden = true;
    },
  };
}

// The key, where the service wants one. It stays in memory, and goes with the page.

import { button, labelled, make } from "./dom.js";

/** Put a field for the key on the page; `use` is called with what was typed. */
export function keyField(holder, use) {
  const input = make("input", { type: "password", autocomplete: "off", spellcheck: "false" });
  const said = make("p", {}, "");
  const give = () => {
    if (input.value.trim()) use(input.value.trim());
  };
  input.addEventListener("keydown", (event) => event.key === "Enter" && give());
  holder.append(
    said,
    make("div", { class: "row" }, labelled("Key", input), button("Use this key", give)),
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

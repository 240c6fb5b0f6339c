// The contract's names and descriptions as words on the page.

const WORDS = {
  to: "Hangs to",
  to_height: "Height of sill or apron",
  return: "Return",
  carrying_height: "Carrying height",
  heading: "Heading",
  rod: "Rod",
  hang: "Hang",
  pin: "Pins",
  glass: "Glass of the window",
  behind: "Behind another window's over-drapery",
  make_up: "Making up",
  fabric: "Cloth",
  fabrics: "Cloth",
  bolts: "Pieces on the shelf",
  mark: "Rule that marks land on",
  pleat_count: "Count of pleats",
  widths: "Half widths",
  nearest: "Widths nearest the fullness",
  width_count: "Widths in each panel",
  view: "Priced for",
  rush: "Wanted sooner than usual",
  fitting: "Fitted by the workroom",
  job: "Name of the job",
  worksheet: "Show how each figure was reached",
};

/** Return what a field is called. */
export function title(name) {
  return Object.hasOwn(WORDS, name) ? WORDS[name] : worded(name);
}

/** Return a word of the contract as it is read. */
export function worded(name) {
  const text = String(name).replaceAll(/[-_]/g, " ");
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Return a description for somebody who fills in a form: what is null there is a field left empty here. */
export function told(description) {
  return description
    .replaceAll(/`([a-z_]+)`/g, (_, name) => `“${title(name)}”`)
    .replaceAll(/\bNull\b/g, "Left empty")
    .replaceAll(/\bnull\b/g, "left empty")
    .replaceAll(/\s+/g, " ");
}

/** Return what a description says that null stands for; "" when it does not say. */
export function meaningOfNull(description) {
  return /\b[Nn]ull: ([^.;]+)/.exec(description)?.[1] ?? "";
}

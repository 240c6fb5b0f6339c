// JSON Pointers [RFC 6901], and what is at them. Only own properties count, so that no name reaches a prototype.

/** Return the pointer with these steps. */
export function pointer(...steps) {
  return steps.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}

/** Return the steps of a pointer. */
export function steps(text) {
  return text
    .split("/")
    .slice(1)
    .map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"));
}

/** Whether this is an object or a list. */
export function holds(value) {
  return typeof value === "object" && value !== null;
}

/** Return what is at a pointer; undefined when there is nothing. */
export function at(root, text) {
  let found = root;
  for (const step of steps(text)) {
    if (!holds(found) || !Object.hasOwn(found, step)) return undefined;
    found = found[step];
  }
  return found;
}

/** Set one property, whatever it is called. */
export function own(holder, name, value) {
  Object.defineProperty(holder, name, { value, writable: true, enumerable: true, configurable: true });
}

/** Put a value at a pointer, making the objects on the way to it; undefined takes it out. */
export function put(root, text, value) {
  const way = steps(text);
  const last = way.pop();
  let holder = root;
  for (const step of way) {
    if (!Object.hasOwn(holder, step) || !holds(holder[step])) {
      if (value === undefined) return;
      own(holder, step, {});
    }
    holder = holder[step];
  }
  if (value !== undefined) own(holder, last, value);
  else if (Array.isArray(holder)) holder.splice(Number(last), 1);
  else delete holder[last];
}

/** A tree of values that fields read and write by pointers. */
export class Sheet {
  constructor(root) {
    this.root = root;
  }

  get(text) {
    return at(this.root, text);
  }

  set(text, value) {
    put(this.root, text, value);
  }
}

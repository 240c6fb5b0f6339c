// How far work is that takes long, in words.

const SHOWN_AFTER = 700; // milliseconds; what is done sooner needs no words

/**
 * Return what is told how far work is, and shows it once the work has taken long.
 * @param {HTMLElement} holder
 */
export function telling(holder) {
  const began = performance.now();
  return ({ doing, done, of }) => {
    if (performance.now() - began < SHOWN_AFTER) return;
    const count = of ? `: ${done} of ${of}` : done ? `: ${done}` : "";
    holder.textContent = `Working on ${doing}${count}…`;
    holder.hidden = false;
  };
}

/** Say nothing of progress any more. */
export function told(holder) {
  holder.textContent = "";
  holder.hidden = true;
}

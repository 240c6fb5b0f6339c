// The heading styles that are installed, the shape of each as it is seen from above, and the cloths of the rate book.

import { make } from "./dom.js";
import { figure } from "./lengths.js";

const SVG = "http://www.w3.org/2000/svg";

/** Return what the service tells of its styles, by name. Raises Refused. */
export async function stylesOf(service) {
  const reply = await service.json("v1/headings");
  return new Map(reply.headings.map((each) => [each.style, each]));
}

/** Return what the service tells of the cloths in its rate book. Raises Refused. */
export async function clothsOf(service) {
  return (await service.json("v1/cloths")).cloths;
}

/** Return the nodes that show one style: its cross-section and a line about it. */
export function glyph(style) {
  if (!style) return [];
  const usual = `Usual fullness ${figure(style.fullness.usual, 2)}, from ${figure(style.fullness.least, 2)} to ${figure(style.fullness.most, 2)}.`;
  return [drawn(style.cross_section.path), make("p", {}, style.summary, " ", usual)];
}

function drawn(path) {
  const svg = document.createElementNS(SVG, "svg");
  const line = document.createElementNS(SVG, "path");
  line.setAttribute("d", path);
  line.setAttribute("vector-effect", "non-scaling-stroke");
  svg.append(line);
  svg.setAttribute("aria-hidden", "true");
  // It has a size only once it is on the page.
  requestAnimationFrame(() => {
    const box = line.getBBox();
    const room = Math.max(box.width, box.height) * 0.08;
    const view = [box.x - room, box.y - room, box.width + 2 * room, box.height + 2 * room];
    // y goes out into the room, which is down where somebody looks from above.
    if (view.every(Number.isFinite)) svg.setAttribute("viewBox", view.join(" "));
  });
  return svg;
}

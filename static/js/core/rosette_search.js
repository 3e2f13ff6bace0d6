// Mirrors core/rosette_search.py: where several rosette holes go on one tip line, clear of edge, stub end and one another.

import { down, fineText, near, up } from "./quantity.js";
import { crossing, edgeDistance, tipAngles } from "./rosette.js";
import { PRACTICE } from "./rules.js";
import { radians } from "./sleeve.js";
import { rosetteSearch as T } from "./tables.js";

const ROUNDING = 1e-9;

// The places of one end, from the middle outward, line by line; sizes are over zero by now.
export class Placement {
  constructor(parts) {
    Object.assign(this, parts);
  }

  // Whether the count misses by the distance between holes alone.
  get spacingFails() {
    return this.fits < this.asked && this.roomSpacing !== null;
  }

  text(metric) {
    const holes = ["No hole keeps", "One hole on each line keeps"][this.fits] ?? `${this.fits} holes on each line keep`;
    const lines = [`${holes} ${fineText(this.leastDistance, metric, "up")} from hole centre to edge and stub end.`];
    if (this.spacingFails) {
      lines.push(`${this.asked} holes would sit ${fineText(Math.max(0, this.roomSpacing), metric, "down")} apart; ` +
        `${T.SPACING_SOURCE} asks for ${fineText(this.leastSpacing, metric, "up")}, ` +
        `${T.SPACING_DIAMETERS} hole diameters. Drill fewer, or choose a smaller hole or a longer sleeve.`);
    } else if (this.fits < this.asked) {
      lines.push("Choose a smaller hole or a longer sleeve, or leave the rosettes out if the inspector agrees.");
    }
    return lines;
  }

  asDict(metric) {
    return {
      asked: this.asked,
      fits: this.fits,
      least_distance: up(this.leastDistance, metric),
      least_spacing: up(this.leastSpacing, metric),
      stations: this.holes.map((hole) => ({
        angle_deg: hole.angleDeg, from_tip: near(hole.fromTip, metric), from_middle: near(hole.fromMiddle, metric),
        to_stub_end: down(hole.toStubEnd, metric), to_edge: down(hole.toEdge, metric), margin: down(hole.margin, metric),
      })),
      text: this.text(metric),
      sources: [`Least distance, hole radius + sleeve wall unless given: ${PRACTICE}.`, `Spacing: ${T.SPACING_SOURCE}.`],
    };
  }
}

// Makes the least margin largest; `distance` is null for hole radius + wall.
export function place(count, diameter, length, Ds, ts, gap, cut, distance) {
  const clear = distance ?? diameter / 2 + ts;
  const spacing = T.SPACING_DIAMETERS * diameter;
  const angle = radians(tipAngles(cut)[0]);
  const edge = (x) => edgeDistance(x, angle, length, Ds, cut);
  let [fits, line] = [count, []];
  for (; fits > 0; fits -= 1) {
    line = equalMargins(fits, clear, spacing, length, gap, edge);
    if (line.length && Math.min(...line.map((hole) => hole.margin)) >= -ROUNDING) break;
  }
  if (!fits) line = [];
  return new Placement({
    asked: count, fits, leastDistance: clear, leastSpacing: spacing,
    holes: tipAngles(cut).flatMap((angleDeg) => line.map((hole) => ({ ...hole, angleDeg }))),
    roomSpacing: roomSpacing(count, fits, clear, length, gap, edge),
  });
}

function equalMargins(count, clear, spacing, length, gap, edge) {
  if (length <= gap) return [];
  const margin = (x) => (x - gap / 2 - clear - (count - 1) * spacing) / count;
  const last = crossing((x) => margin(x) - (edge(x) - clear), gap / 2, length / 2);
  const apart = spacing + margin(last);
  return Array.from({ length: count }, (_, i) => {
    const x = last - (count - 1 - i) * apart;
    const toEdge = edge(x);
    const margins = [x - gap / 2 - clear, toEdge - clear, ...(count > 1 ? [apart - spacing] : [])];
    return { fromTip: length / 2 - x, fromMiddle: x, toStubEnd: x - gap / 2, toEdge, margin: Math.min(...margins) };
  });
}

// Centre spacing with the first hole just clear of the stub and the last of the edge.
function roomSpacing(count, fits, clear, length, gap, edge) {
  if (count === 1 || fits === 0) return null;
  const first = gap / 2 + clear;
  return (crossing((x) => clear - edge(x), first, length / 2) - first) / (count - 1);
}

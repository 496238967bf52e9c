// Drawings of what a recipe reaches and of its grey balance.

import { attr, keyed, style, svg } from "../../ui/dom.js";
import { figure } from "../../ui/words.js";

const EDGE = 125; // CIELAB units of chroma that the plots of the reach hold

// outlinePlot draws the largest chroma by hue in the a*b* plane, and the line of
// the hue that is cut.
export function outlinePlot() {
  const size = 120;
  const at = (v) => size / 2 + (v / EDGE) * (size / 2);
  const skin = svg("polygon", { class: "skin" });
  const cut = svg("path", { class: "hue" });
  const rings = [50, 100].map((chroma) => svg("circle", { cx: at(0), cy: at(0), r: at(chroma) - at(0) }));
  const node = svg("svg", { viewBox: `0 0 ${size} ${size}`, class: "outline", role: "img" },
    svg("g", { class: "grid" }, ...rings, svg("path", { d: `M0 ${at(0)}H${size}M${at(0)} 0V${size}` })), cut, skin,
    ...[50, 100].map((chroma) => svg("text", { x: at(chroma) - 1.5, y: at(0) + 10, "text-anchor": "end", class: "scale", text: String(chroma) })),
    svg("text", { x: size - 2, y: at(0) - 4, "text-anchor": "end", text: "a*" }),
    svg("text", { x: at(0) + 4, y: 10, text: "b*" }));
  return {
    node,
    update(chroma, degrees) {
      const points = chroma.map((c, i) => {
        const hue = (2 * Math.PI * i) / chroma.length;
        return `${at(c * Math.cos(hue)).toFixed(1)},${at(-c * Math.sin(hue)).toFixed(1)}`;
      });
      attr(skin, "points", points.join(" "));
      const [x, y] = [EDGE * Math.cos(degrees * Math.PI / 180), EDGE * Math.sin(degrees * Math.PI / 180)];
      attr(cut, "d", `M${at(x).toFixed(1)} ${at(-y).toFixed(1)}L${at(-x).toFixed(1)} ${at(y).toFixed(1)}`);
      const at90 = (angle) => figure(chroma[Math.round((angle / 360) * chroma.length) % chroma.length]);
      attr(node, "aria-label", `Outline of the reach in a* and b*: largest chroma ${at90(0)} towards red, ${at90(90)} yellow, ${at90(180)} green, ${at90(270)} blue. The rings are chroma 50 and 100; the straight line is the hue of the other plot.`);
    },
  };
}

// slicePlot draws the largest chroma by lightness at one hue, to the right, and
// at its opposite, to the left.
export function slicePlot() {
  const [w, hgt, bottom] = [120, 120, 4];
  const x = (c) => w / 2 + (c / EDGE) * (w / 2);
  const y = (l) => hgt - bottom - (l / 100) * (hgt - bottom - 12);
  const skin = svg("polygon", { class: "skin" });
  const node = svg("svg", { viewBox: `0 0 ${w} ${hgt}`, class: "outline", role: "img" },
    svg("g", { class: "grid" },
      ...[0, 50, 100].map((l) => svg("path", { d: `M0 ${y(l)}H${w}` })),
      ...[-100, -50, 0, 50, 100].map((c) => svg("path", { d: `M${x(c)} ${y(0)}V${y(100)}` }))), skin,
    ...[50, 100].map((l) => svg("text", { x: 1, y: y(l) + 9, class: "scale", text: String(l) })),
    ...[50, 100].map((c) => svg("text", { x: x(c) - 1.5, y: y(0) - 3, "text-anchor": "end", class: "scale", text: String(c) })),
    svg("text", { x: w - 2, y: y(100) + 9, "text-anchor": "end", text: "C*" }),
    svg("text", { x: x(0) + 3, y: 10, text: "L*" }));
  return {
    node,
    update(slices, degrees) {
      const slice = (angle) => slices[Math.round((((angle % 360) + 360) % 360) / 360 * slices.length) % slices.length];
      const [here, there] = [slice(degrees), slice(degrees + 180)];
      const side = (chroma, sign) => chroma.map((c, i) => [sign * c, i * 100 / (chroma.length - 1)]).filter(([c]) => sign * c >= 0);
      const points = [...side(here, 1), ...side(there, -1).reverse()];
      attr(skin, "points", points.map(([c, l]) => `${x(c).toFixed(1)},${y(l).toFixed(1)}`).join(" "));
      const top = (chroma) => {
        const most = Math.max(0, ...chroma);
        return `${figure(most)} at L* ${figure(chroma.indexOf(most) * 100 / (chroma.length - 1))}`;
      };
      attr(node, "aria-label", `Outline of the reach in L* and C* at hue ${figure(degrees)}°: largest chroma ${top(here)}; at the opposite hue, to the left, ${top(there)}. The lines stand at chroma 50 and 100.`);
    },
  };
}

// balancePlot draws the thickness of each layer against the print's L*.
export function balancePlot() {
  const [w, hgt, left, right, top, bottom] = [300, 182, 26, 40, 18, 36];
  const x = (l) => left + ((100 - l) / 100) * (w - left - right);
  let most = 1; // the thickest that the plot holds
  const y = (t) => hgt - bottom - (t / most) * (hgt - top - bottom);
  const lost = svg("rect", { class: "lost", y: top, height: hgt - top - bottom });
  const lines = svg("g");
  const levels = [0, 0.5, 1].map((share) => ({ share, name: svg("text", { x: left - 5, y: y(share) + 4, "text-anchor": "end" }) }));
  const node = svg("svg", { viewBox: `0 0 ${w} ${hgt}`, class: "balance", role: "img" }, lost,
    svg("g", { class: "grid" }, ...[0, 0.5, 1].map((t) => svg("path", { d: `M${left} ${y(t)}H${w - right}` })),
      ...[100, 75, 50, 25, 0].map((l) => svg("path", { d: `M${x(l)} ${hgt - bottom}v4` }))),
    ...levels.map((level) => level.name),
    ...[100, 75, 50, 25, 0].map((l) => svg("text", { x: x(l), y: hgt - bottom + 16, "text-anchor": "middle", text: String(l) })),
    svg("text", { x: left, y: 10, text: "of the whole coat" }),
    svg("text", { x: w - right, y: hgt - 2, "text-anchor": "end", text: "L* of the print" }), lines);
  return {
    node,
    update(balance, layers) {
      const all = layers.map(({ printer }) => balance.t[printer].at(-1));
      most = Math.max(...all) > 1 ? 2.5 : 1;
      for (const level of levels) level.name.textContent = String(level.share * most);
      attr(lost, "visibility", balance.lost ? null : "hidden");
      if (balance.lost) {
        attr(lost, "x", x(balance.lost[0]));
        attr(lost, "width", Math.max(1, x(balance.lost[1]) - x(balance.lost[0])));
      }
      const ends = layers.map(({ printer, swatch }) => ({ printer, swatch, L: balance.L, t: balance.t[printer] }))
        .map((layer) => ({ ...layer, last: layer.t.at(-1) })).sort((a, b) => b.last - a.last);
      // The names stand at the lines' ends, one below the other.
      let free = 0;
      for (const end of ends) free = (end.label = Math.max(y(end.last) + 4, free)) + 13;
      const over = Math.max(0, ends.at(-1).label - (hgt - bottom));
      keyed(lines, ends, (end) => end.printer, ({ printer }) => {
        const [under, line, name] = [svg("path", { class: "under" }), svg("path"), svg("text", { text: printer })];
        return {
          node: svg("g", {}, under, line, name),
          update(end) {
            const d = end.t.map((t, i) => `${i ? "L" : "M"}${x(end.L[i]).toFixed(1)} ${y(t).toFixed(1)}`).join("");
            attr(under, "d", d);
            attr(line, "d", d);
            style(line, "stroke", end.swatch);
            attr(name, "x", x(end.L.at(-1)) + 6);
            attr(name, "y", end.label - over);
          },
        };
      });
      attr(node, "aria-label", `Thickness of each layer against the L* of the print. At the black: ${ends.map((end) => `${end.printer} ${figure(end.last, 2)}`).join(", ")} of the whole coat.`);
    },
  };
}

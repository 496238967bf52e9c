// What the page has to say: messages that stay until they are dismissed, and
// work that is under way, with the way to stop it.

import { h, keyed, show, text } from "../ui/dom.js";
import { button } from "../ui/controls.js";

export function build(api, messages, busy) {
  const what = h("span", { class: "what" });
  const share = h("progress", { max: 1, "aria-label": "Done so far" });
  const percent = h("span", { class: "percent" });
  const stop = button("Stop", () => api.cancel());
  busy.append(what, percent, share, stop);

  return {
    update(view) {
      keyed(messages, view.messages, (message) => message.id, (message) => {
        const words = h("p");
        const node = h("div", { class: `message ${message.kind}`, role: message.kind === "error" ? "alert" : null },
          h("strong", { text: message.kind === "error" ? "Not done" : "Note" }), words,
          button("Dismiss", () => {
            api.do({ do: "dismiss", id: message.id });
            document.getElementById("column").focus();
          }));
        return { node, update: (now) => text(words, now.text) };
      });
      show(busy, view.busy !== null);
      if (view.busy === null) return;
      text(what, view.busy.what);
      text(percent, `${Math.round(view.busy.share * 100)} %`);
      if (share.value !== view.busy.share) share.value = view.busy.share;
      show(stop, view.busy.cancel);
    },
  };
}

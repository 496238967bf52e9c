// What the page has to say: messages that stay until they are dismissed, and the
// work that is under way, each piece with the way to stop it.

/** @import { Heard } from "../types/desk.js" */
/** @import { Api, Part } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */

import { attr, byID, h, keyed, show, text } from "../ui/dom.js";
import { button } from "../ui/controls.js";

/**
 * @param {Api} api
 * @param {HTMLElement} messages
 * @param {HTMLElement} busy
 * @returns {Part & { progress: (jobs: Model["jobs"]) => void }}
 */
export function build(api, messages, busy) {
  return {
    progress,
    update(view) {
      keyed(messages, view.messages, (message) => message.id, (message) => {
        const words = h("p");
        const { act } = message;
        const offered = act ? button(act.words, () => {
          api.desk({ do: "dismiss", message: message.id });
          api.desk(/** @type {Heard} */ (act.id ? { do: act.do, id: act.id } : { do: act.do }));
        }) : null;
        const node = h("div", { class: `message ${message.kind}`, role: message.kind === "error" ? "alert" : null },
          h("strong", { text: message.kind === "error" ? "Not done" : "Note" }), words, offered,
          button("Dismiss", () => {
            api.desk({ do: "dismiss", message: message.id });
            byID("table").focus();
          }));
        return { node, update: (now) => text(words, now.text) };
      });
      progress(view.jobs);
    },
  };

  function progress(/** @type {Model["jobs"]} */ jobs) {
    show(busy, jobs.length > 0);
    keyed(busy, jobs, (job) => job.token, (job) => {
      const what = h("span", { class: "what" });
      const share = h("progress", { max: 1, "aria-label": "Done so far" });
      const percent = h("span", { class: "percent" });
      const stop = button("Stop", () => api.desk({ do: "stop", token: job.token }));
      return {
        node: h("div", { class: "job" }, what, percent, share, stop),
        update(now) {
          text(what, now.words);
          text(percent, `${Math.round(now.share * 100)} %`);
          if (share.value !== now.share) share.value = now.share;
          attr(stop, "aria-label", `Stop: ${now.words}`);
        },
      };
    });
  }
}

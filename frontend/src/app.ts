/** What the pages do beyond plain links and forms; every page works without it. */

import "./styles/index.css";
import htmx from "htmx.org";
import { watchDiscarding } from "./discarding";
import { type Entries, watchDrafts } from "./drafts";
import { addSigns, goOnWithEnter, openAgain, openParts, rememberUnits } from "./fields";
import { drawCharts, redrawOnThemeChange } from "./figures";
import { watchListening } from "./listening";
import { watchMoments } from "./moments";
import { askOnlyForThePreview, dropLateAnswers } from "./previews";
import { watchTables } from "./tables";

// The content policy forbids evaluation and inline styles; htmx is told not to try.
htmx.config.allowEval = false;
htmx.config.includeIndicatorStyles = false;
htmx.config.selfRequestsOnly = true;
htmx.config.historyCacheSize = 0;
htmx.config.refreshOnHistoryMiss = true;
// An answer that refuses says so in words; they are shown, not dropped.
htmx.config.responseHandling = [
  { code: "204", swap: false },
  { code: "...", swap: true },
];

htmx.onLoad((added) => {
  if (added instanceof HTMLElement) {
    addSigns(added);
    rememberUnits(added);
    goOnWithEnter(added);
    dropLateAnswers(added);
    drawCharts(added);
    watchListening(added);
    watchMoments(added);
    watchTables(added); // before drafts: what is no reading is no part of them
    watchDrafts(added, takeDraft);
    watchDiscarding(added);
  }
});

document.addEventListener("htmx:configRequest", (event) => {
  askOnlyForThePreview((event as CustomEvent<Parameters<typeof askOnlyForThePreview>[0]>).detail);
});

// What somebody opened in a form stays open when the form is laid out again.
let opened: string[] = [];
document.addEventListener("htmx:beforeSwap", (event) => {
  opened = event.target instanceof HTMLFormElement ? openParts(event.target) : [];
});
document.addEventListener("htmx:afterSwap", () => {
  for (const form of document.querySelectorAll("form[data-draft]")) {
    openAgain(form, opened);
  }
  opened = [];
});

/** The form's own `data-again` address lays it out as it was typed. */
function takeDraft(form: HTMLFormElement, draft: Entries): void {
  void htmx.ajax("post", form.dataset.again ?? form.action, {
    target: form,
    swap: "outerHTML",
    values: Object.fromEntries(draft),
  });
}

document.addEventListener("htmx:sendError", () => {
  const notice = document.querySelector("#notice");
  if (notice) {
    notice.innerHTML =
      '<div class="notice"><p><strong>Rooftree does not answer.</strong> What you typed is kept ' +
      "on this device. Start Rooftree again, then load this page again.</p></div>";
  }
});

redrawOnThemeChange();

// On a phone the sheets of a job run out sideways: the one that is open is in sight.
document.querySelector(".sheets [aria-current]")?.scrollIntoView({ block: "nearest" });

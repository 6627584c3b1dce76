/**
 * The section in motion: a few numbers for each moment, put into the drawing that is there.
 *
 * Nothing is drawn anew, so nothing jumps. It moves only when somebody presses Play or
 * slides; who wants less motion gets slower steps and no gliding (the style sheet sees to it).
 */

interface Moment {
  when: string;
  weather: string;
  says: string;
  alternative: string;
  values: (string | number | null)[];
}

export interface Moments {
  words: string;
  moments: Moment[];
}

/** What fetches the moments of a sequence by its name. */
export type Fetch = (name: string) => Promise<Moments>;

const STEP = 700;
const CALM_STEP = 1600;

/** Set every section inside `root` in motion. */
export function watchMoments(root: HTMLElement): void {
  for (const part of root.querySelectorAll<HTMLElement>("[data-moments]")) {
    void moveSection(part, remembering(part.dataset.moments ?? ""));
  }
}

/** Return what asks the server once for each sequence. */
function remembering(address: string): Fetch {
  const known = new Map<string, Promise<Moments>>();
  return (name) => {
    const asked =
      known.get(name) ??
      fetch(`${address}${encodeURIComponent(name)}`).then((answer) => {
        if (!answer.ok) {
          known.delete(name);
          throw new Error(`${answer.status}`);
        }
        return answer.json() as Promise<Moments>;
      });
    known.set(name, asked);
    return asked;
  };
}

/** Show a moment in the drawing and in the words around it. */
export function showMoment(part: HTMLElement, moment: Moment): void {
  say(part, "[data-says]", moment.says);
  say(part, "[data-when]", moment.when);
  say(part, "[data-weather]", moment.weather);
  part
    .querySelector(".drawing svg")
    ?.setAttribute("aria-label", `${moment.says}. ${moment.alternative}`);
  say(part, ".drawing svg > title", moment.says);
  say(part, ".drawing svg > desc", moment.alternative);
  for (const element of part.querySelectorAll<SVGElement>("[data-place]")) {
    set(element, moment.values[Number(element.dataset.place)] ?? null);
  }
}

function say(part: HTMLElement, where: string, words: string): void {
  const place = part.querySelector(where);
  if (place && place.textContent !== words) {
    place.textContent = words;
  }
}

function set(element: SVGElement, value: string | number | null): void {
  switch (element.dataset.what) {
    case "text":
      element.textContent = String(value ?? "");
      break;
    case "width":
      element.setAttribute("stroke-width", String(value ?? 0));
      element.setAttribute("visibility", value ? "visible" : "hidden");
      break;
    default:
      element.setAttribute("transform", `translate(0 ${value ?? 0})`);
      element.setAttribute("visibility", value === null ? "hidden" : "visible");
  }
}

/** Let the controls of one section move it. */
export async function moveSection(part: HTMLElement, get: Fetch): Promise<void> {
  const show = part.querySelector<HTMLSelectElement>("select[name=show]");
  const day = part.querySelector<HTMLInputElement>("input[name=day]");
  const at = part.querySelector<HTMLInputElement>("input[name=at]");
  const play = part.querySelector<HTMLButtonElement>("[data-play]");
  if (!show || !day || !at || !play) {
    return;
  }
  let shown: Moments | null = null;
  let wanted = "";
  let timer = 0;

  const name = (): string => (show.value === "day" ? `day-${day.value}` : show.value);
  const draw = (): void => {
    const moment = shown?.moments[Number(at.value)];
    if (moment) {
      at.setAttribute("aria-valuetext", moment.when);
      day.setAttribute("aria-valuetext", shown?.words ?? day.value);
      showMoment(part, moment);
    }
  };
  const take = async (): Promise<void> => {
    const asked = name();
    wanted = asked;
    part
      .querySelector<HTMLElement>("[data-day]")
      ?.toggleAttribute("data-idle", show.value !== "day");
    try {
      const come = await get(asked);
      if (wanted === asked) {
        shown = come;
        const last = come.moments.length - 1;
        at.max = String(last);
        at.value = String(Math.min(Number(at.value), last));
        draw();
      }
    } catch {
      pause();
      say(part, "[data-weather]", "this moment could not be fetched; load the page again");
    }
  };
  const step = (): void => {
    at.value = String((Number(at.value) + 1) % (Number(at.max) + 1));
    draw();
  };
  const playing = (is: boolean): void => {
    play.toggleAttribute("data-playing", is);
    say(part, "[data-play-words]", is ? "Pause" : "Play");
  };
  const pause = (): void => {
    window.clearInterval(timer);
    timer = 0;
    playing(false);
  };
  const start = (): void => {
    const calm = window.matchMedia?.("(prefers-reduced-motion: reduce)").matches;
    timer = window.setInterval(
      () => (part.isConnected ? step() : pause()),
      calm ? CALM_STEP : STEP,
    );
    playing(true);
    step();
  };

  show.addEventListener("change", () => void take());
  day.addEventListener("input", () => void take());
  at.addEventListener("input", () => {
    pause();
    draw();
  });
  play.addEventListener("click", () => (timer ? pause() : start()));
  document.addEventListener("visibilitychange", () => document.hidden && pause());
  play.hidden = false;
  await take();
}

// A bay's air in a few characters, and how old it is.
import type { JSX } from "preact";
import type { Bay } from "../data/api";
import { useNow } from "./parts";
import type { Words } from "../words/words";

export const airWords = ({ air_c, rh_pct }: Bay, words: Words): string =>
  [air_c === null ? "" : words.temperature(air_c), rh_pct === null ? "" : words.percent(rh_pct)].filter(Boolean).join(" · ");

const old_after = 15 * 60_000; // ms
export const isOld = ({ as_of }: Bay, now: Date): boolean => as_of === null || now.getTime() - Date.parse(as_of) > old_after;

export function AirAge({ bay, words }: { bay: Bay; words: Words }): JSX.Element {
  const now = useNow();
  if (bay.as_of === null) {
    return <span class="age">{words.say("board.no-sensor")}</span>;
  }
  const age = now.getTime() - Date.parse(bay.as_of);
  return isOld(bay, now) ? <span class="age old">{words.say("board.last-reading", { ago: words.ago(age) })}</span> : <span class="age">{words.ago(age)}</span>;
}

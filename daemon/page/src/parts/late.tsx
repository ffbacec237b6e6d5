// When it happened: now, or earlier where it is told late. Each form has one.
import type { JSX, RefObject } from "preact";
import { useRef, useState } from "preact/hooks";
import type { Deed } from "../data/api";
import { showField } from "./fields";
import { Choice, useNow } from "./parts";
import { lastAt, wallOf, withMeant } from "../data/shop_time";
import { shopNow, tapTime, tell } from "../data/store";
import { WhichOfTwo, wrongWith } from "./wall_time";
import type { Words } from "../words/words";

type Ago = "0" | "15" | "30" | "60" | "120" | "clock";

// What is said after the tap: a text gets the time behind it where it is told late.
type Said = string | ((at: string) => string);

export interface When {
  late: boolean;
  wrong: string; // why nothing can be told for that time; empty: it can
  then: string; // in words: "Sat 05:40"; empty where it is now
  tell: (deeds: Deed | Deed[], said: Said) => boolean; // false: the time is wrong, nothing was told, and its field is shown
  chosen: { ago: Ago; clock: string };
  choose: (chosen: { ago: Ago; clock: string }) => void;
  instants: Date[]; // that the chosen clock may mean
  field: RefObject<HTMLInputElement | null>;
}

export function useWhen(words: Words): When {
  const now = useNow();
  const field = useRef<HTMLInputElement>(null);
  const [chosen, choose] = useState<When["chosen"]>({ ago: "0", clock: "" });
  const by_clock = chosen.ago === "clock" && chosen.clock !== "";
  const instantsAt = (now: Date): Date[] => (by_clock ? lastAt(wallOf(chosen.clock), now, words.site.time_zone) : []);
  const instants = instantsAt(shopNow());
  const wrong = by_clock ? wrongWith(chosen.clock, instants, words) : "";
  const at = (now: Date): Date => {
    const meant = instantsAt(now);
    const ago = chosen.ago === "clock" ? 0 : Number(chosen.ago);
    return meant.find((one) => withMeant(wallOf(chosen.clock), one) === chosen.clock) ?? meant[0] ?? new Date(now.getTime() - ago * 60_000);
  };
  const late = wrong === "" && (chosen.ago === "clock" ? by_clock : chosen.ago !== "0");
  const then = late ? words.when(at(now), now) : "";
  const tellIt = (deeds: Deed | Deed[], said: Said): boolean => {
    const tap = tapTime();
    const against = by_clock ? wrongWith(chosen.clock, instantsAt(tap), words) : "";
    if (against !== "") {
      showField(field);
      return false;
    }
    const text = typeof said === "function" ? said(words.when(at(tap), now)) : late ? words.say("when.said-late", { said, when: then }) : said;
    tell(deeds, text, at(tap));
    return true;
  };
  return { late, wrong, then, tell: tellIt, chosen, choose, instants, field };
}

export function WhenChoice({ when, words }: { when: When; words: Words }): JSX.Element {
  const { ago, clock } = when.chosen;
  return (
    <>
      <Choice
        label={words.say("when.when")}
        options={[
          { value: "0", text: words.say("when.now") },
          { value: "15", text: words.say("page.ago-minutes", { n: 15 }) },
          { value: "30", text: words.say("page.ago-minutes", { n: 30 }) },
          { value: "60", text: words.say("page.ago-hours", { n: 1 }) },
          { value: "120", text: words.say("page.ago-hours", { n: 2 }) },
          { value: "clock", text: words.say("when.at-a-time") },
        ]}
        value={ago}
        onChoose={(value) => when.choose({ ago: value, clock })}
      />
      {ago === "clock" && (
        <label class="field">
          <span>{words.say("when.time-on-clock")}</span>
          <input
            ref={when.field}
            type="time"
            value={wallOf(clock)}
            onInput={(event) => when.choose({ ago, clock: event.currentTarget.value })}
            aria-describedby="last-at"
          />
          <small id="last-at">{words.say("when.yesterday")}</small>
          {when.wrong !== "" && <small role="alert">{when.wrong}</small>}
        </label>
      )}
      {ago === "clock" && <WhichOfTwo text={clock} instants={when.instants} words={words} onChoose={(text) => when.choose({ ago, clock: text })} />}
    </>
  );
}

// One line where it is now; opened where it is told late.
export function WhenBar({ when, words }: { when: When; words: Words }): JSX.Element {
  const counts = when.late ? words.say("when.counts-then", { when: when.then }) : words.say("when.counts-now");
  const said = when.wrong === "" ? counts : words.say("when.no-time");
  return (
    <details class={`deed manner ${when.late ? "late" : ""}`}>
      <summary>
        <span role="status">{said}</span>
        <b>{words.say("page.change")}</b>
      </summary>
      <WhenChoice when={when} words={words} />
    </details>
  );
}

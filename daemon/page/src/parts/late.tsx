// When it happened: now, or earlier where it is told late. Each form has one.
import type { JSX, RefObject } from "preact";
import { useRef, useState } from "preact/hooks";
import type { Deed } from "../data/api";
import { Choice, useNow } from "./parts";
import { lastAt, wallOf, withMeant } from "../data/shop_time";
import { shopNow, tell } from "../data/store";
import { WhichOfTwo, wrongWith } from "./wall_time";
import type { Words } from "../words/words";

type Ago = "0" | "15" | "30" | "60" | "120" | "clock";

export interface When {
  late: boolean;
  wrong: string; // why nothing can be told for that time; empty: it can
  at: () => Date; // asked at the tap: "15 min ago" moves with the time
  after: string; // for what is said after the tap: " Sat 05:40"; empty where it is now
  tell: (deed: Deed, said: string) => boolean; // false: the time is wrong, nothing was told, and its field is shown
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
  const instantsNow = (): Date[] => (by_clock ? lastAt(wallOf(chosen.clock), shopNow(), words.site.time_zone) : []);
  const instants = instantsNow();
  const wrong = by_clock ? wrongWith(chosen.clock, instants) : "";
  const at = (): Date => {
    const meant = instantsNow();
    const ago = chosen.ago === "clock" ? 0 : Number(chosen.ago);
    return meant.find((one) => withMeant(wallOf(chosen.clock), one) === chosen.clock) ?? meant[0] ?? new Date(shopNow().getTime() - ago * 60_000);
  };
  const late = wrong === "" && (chosen.ago === "clock" ? by_clock : chosen.ago !== "0");
  const tellIt = (deed: Deed, said: string): boolean => {
    const against = by_clock ? wrongWith(chosen.clock, instantsNow()) : "";
    if (against !== "") {
      field.current?.closest("details")?.setAttribute("open", "");
      field.current?.focus();
      return false;
    }
    tell(deed, said, at());
    return true;
  };
  return { late, wrong, at, after: late ? ` ${words.when(at(), now)}` : "", tell: tellIt, chosen, choose, instants, field };
}

export function WhenChoice({ when }: { when: When }): JSX.Element {
  const { ago, clock } = when.chosen;
  return (
    <>
      <Choice
        label="When"
        options={[
          { value: "0", text: "Now" },
          { value: "15", text: "15 min ago" },
          { value: "30", text: "30 min ago" },
          { value: "60", text: "1 h ago" },
          { value: "120", text: "2 h ago" },
          { value: "clock", text: "At a time" },
        ]}
        value={ago}
        onChoose={(value) => when.choose({ ago: value, clock })}
      />
      {ago === "clock" && (
        <label class="field">
          <span>Time on the shop's clock</span>
          <input
            ref={when.field}
            type="time"
            value={wallOf(clock)}
            onInput={(event) => when.choose({ ago, clock: event.currentTarget.value })}
            aria-describedby="last-at"
          />
          <small id="last-at">A time that is still to come today counts as yesterday's.</small>
          {when.wrong !== "" && <small role="alert">{when.wrong}</small>}
        </label>
      )}
      {ago === "clock" && <WhichOfTwo text={clock} instants={when.instants} onChoose={(text) => when.choose({ ago, clock: text })} />}
    </>
  );
}

// One line where it is now; opened where it is told late.
export function WhenBar({ when }: { when: When }): JSX.Element {
  const told = when.late ? `Told late: what you tap counts as done${when.after}` : "What you tap counts as done now";
  const said = when.wrong === "" ? told : "Nothing can be told for the time that is chosen";
  return (
    <details class={`deed manner ${when.late ? "late" : ""}`}>
      <summary>
        <span role="status">{said}</span>
        <b>Change</b>
      </summary>
      <WhenChoice when={when} />
    </details>
  );
}

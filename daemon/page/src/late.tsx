// When it happened: now, or earlier where it is told late. Each form has one.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Choice, useNow } from "./parts";
import { lastAt } from "./shop_time";
import { shopNow } from "./store";
import type { Words } from "./words";

type Ago = "0" | "15" | "30" | "60" | "120" | "clock";

export interface When {
  late: boolean;
  at: () => Date; // asked at the tap: "15 min ago" moves with the time
  after: string; // for what is said after the tap: " Sat 05:40"; empty where it is now
  chosen: { ago: Ago; clock: string };
  choose: (chosen: { ago: Ago; clock: string }) => void;
}

export function useWhen(words: Words): When {
  const now = useNow();
  const [chosen, choose] = useState<When["chosen"]>({ ago: "0", clock: "" });
  const at = (): Date => {
    const moment = shopNow();
    return chosen.ago === "clock"
      ? (lastAt(chosen.clock, moment, words.site.time_zone) ?? moment)
      : new Date(moment.getTime() - Number(chosen.ago) * 60_000);
  };
  const late = chosen.ago === "clock" ? chosen.clock !== "" : chosen.ago !== "0";
  return { late, at, after: late ? ` ${words.when(at(), now)}` : "", chosen, choose };
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
          <input type="time" value={clock} onInput={(event) => when.choose({ ago, clock: event.currentTarget.value })} aria-describedby="last-at" />
          <small id="last-at">A time that is still to come today counts as yesterday's.</small>
        </label>
      )}
    </>
  );
}

// One line where it is now; opened where it is told late.
export function WhenBar({ when }: { when: When }): JSX.Element {
  return (
    <details class={`deed manner ${when.late ? "late" : ""}`}>
      <summary>
        <span role="status">{when.late ? `Told late: what you tap counts as done${when.after}` : "What you tap counts as done now"}</span>
        <b>Change</b>
      </summary>
      <WhenChoice when={when} />
    </details>
  );
}

// Twice a year the clock on the wall skips an hour, or shows one twice: then it is asked which is meant.
import type { JSX } from "preact";
import { Choice } from "./parts";
import { wallOf, withMeant } from "../data/shop_time";

// What stands against the text of a time field, as shop_time.ts has it; empty: nothing. `instants`: at which the wall shows it.
export function wrongWith(text: string, instants: Date[]): string {
  const wall = wallOf(text);
  if (wall !== "" && instants.length === 0) {
    return "The clocks are put forward over this time: it does not exist.";
  }
  return instants.length > 1 && text === wall ? "The clocks are put back over this time: it comes twice. Say which is meant." : "";
}

export function WhichOfTwo(props: { text: string; instants: Date[]; onChoose: (text: string) => void }): JSX.Element | null {
  const { text, instants, onChoose } = props;
  return instants.length < 2 ? null : (
    <Choice
      label="Which of the two"
      options={instants.map((one, index) => ({
        value: withMeant(wallOf(text), one),
        text: index === 0 ? "The first, before the clocks are put back" : "The second, after it",
      }))}
      value={text}
      onChoose={onChoose}
    />
  );
}

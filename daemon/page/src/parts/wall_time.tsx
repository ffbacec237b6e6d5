// Twice a year the clock on the wall skips an hour, or shows one twice: then it is asked which is meant.
import type { JSX } from "preact";
import { Choice } from "./parts";
import { wallOf, withMeant } from "../data/shop_time";
import type { Words } from "../words/words";

// What stands against the text of a time field, as shop_time.ts has it; empty: nothing. `instants`: at which the wall shows it.
export function wrongWith(text: string, instants: Date[], words: Words): string {
  const wall = wallOf(text);
  if (wall !== "" && instants.length === 0) {
    return words.say("when.does-not-exist");
  }
  return instants.length > 1 && text === wall ? words.say("when.comes-twice") : "";
}

export function WhichOfTwo(props: { text: string; instants: Date[]; words: Words; onChoose: (text: string) => void }): JSX.Element | null {
  const { text, instants, words, onChoose } = props;
  return instants.length < 2 ? null : (
    <Choice
      label={words.say("when.which-of-two")}
      options={instants.map((one, index) => ({
        value: withMeant(wallOf(text), one),
        text: words.say(index === 0 ? "when.the-first" : "when.the-second"),
      }))}
      value={text}
      onChoose={onChoose}
    />
  );
}

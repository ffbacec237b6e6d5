// How much of a strip on a witness plate is wet, told with one tap.
import type { JSX } from "preact";
import type { PlateSign, ZoneKind } from "../data/api";
import { tell } from "../data/store";
import { sentence, type Words } from "../words/words";

const signs: PlateSign[] = ["mostly-wet", "half-wet", "tenth-wet", "none-wet"];

export function PlateLook(props: { plate: number; zone: ZoneKind; question: string; words: Words }): JSX.Element {
  const { plate, zone, question, words } = props;
  return (
    <fieldset class="deed choice look">
      <legend>{question}</legend>
      <div>
        {signs.map((sign) => (
          <button
            type="button"
            key={sign}
            onClick={() => tell({ what: "plate-seen", plate, zone, sign }, sentence(words.say("plate.told", { zone: words.zone(zone), sign: words.plateSign(sign) })))}
          >
            {sentence(words.plateSign(sign))}
          </button>
        ))}
      </div>
    </fieldset>
  );
}

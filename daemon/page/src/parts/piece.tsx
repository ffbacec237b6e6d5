// A piece in the shop: its state, and what can be done to it.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Deed, Finding, Piece, Quantiles, Vehicle, Zone } from "../data/api";
import { Course } from "./course";
import type { When } from "./late";
import { Chain, nextStep, Outlook, type Step, stepsOf, useNow } from "./parts";
import { PieceMore } from "./piece_more";
import { earlyWords, type Words, wetnessWords, zoneWords } from "../words/words";

type Sheet = { kind: "early"; step: Step } | { kind: "inspect" } | { kind: "pull" } | null;

export function PieceCard(props: { vehicle: Vehicle; piece: Piece; words: Words; open: boolean; when: When }): JSX.Element {
  const { vehicle, piece, words, when } = props;
  const now = useNow();
  const [sheet, setSheet] = useState<Sheet>(null);
  const card = useRef<HTMLElement>(null);
  useEffect(() => {
    if (props.open) {
      card.current?.scrollIntoView({ block: "start" });
    }
  }, [props.open]);
  const name = words.piece(piece);
  const next = nextStep(piece);

  const doIt = (what: "edge-wrapped" | "trimmed" | "refitted" | "piece-removed", said: string): void => {
    if (when.tell({ what, piece: piece.id }, `${name}: ${said}${when.after}`)) {
      setSheet(null);
    }
  };
  const deedOf = ["edge-wrapped", "trimmed", "refitted"] as const;
  const take = (step: Step): void => {
    const what = deedOf[step.index];
    if (!what) {
      return;
    }
    if (step.mark === "ready" || (sheet?.kind === "early" && sheet.step.index === step.index)) {
      doIt(what, step.done.toLowerCase());
    } else {
      setSheet({ kind: "early", step });
    }
  };

  return (
    <article class="card piece" ref={card} aria-label={name}>
      <h3>
        {name} <small>laid {words.when(piece.laid, now)}, {wetnessWords[piece.wetness].toLowerCase()}</small>
        {piece.gone.map((kind) => (
          <small key={kind}>
            {" "}
            {kind} {piece[kind]}: no longer in the catalogue
          </small>
        ))}
      </h3>
      <Outlook piece={piece} words={words} />
      <Chain piece={piece} />
      {piece.state.validity.length > 0 && <p class="old">{piece.state.validity.map((flag) => flagWords[flag] ?? flag).join("; ")}</p>}
      <Zones zones={piece.state.zones} />
      {piece.early_steps.map((early) => (
        <p class="early" key={early.event}>
          Done early ({earlyWords(early.step)}), still wet then: {words.sentence(early.still_wet)}
        </p>
      ))}
      {when.late && <p class="old">Told late: counts as done{when.after}</p>}
      <p class="actions">
        {stepsOf(piece)
          .filter((step) => deedOf[step.index] && step.mark !== "done")
          .map((step) => (
            <button type="button" key={step.index} class={step.mark === "ready" && step.index === next?.index ? "primary" : ""} onClick={() => take(step)}>
              {step.done}
              {step.mark === "waiting" && <small> early</small>}
            </button>
          ))}
        <button type="button" onClick={() => setSheet({ kind: "inspect" })}>
          Looked at
        </button>
        <a class="button deed" href={`#/vehicle/${vehicle.id}/lay?again=${piece.id}`}>
          Lay again
        </a>
        <button type="button" onClick={() => setSheet({ kind: "pull" })}>
          Pulled off
        </button>
      </p>
      {sheet?.kind === "early" && (
        <Confirm
          title={`${sheet.step.done} before it is ready?`}
          text={`Still held back: ${heldBy(piece, sheet.step, words) || "see the zones above"}. It will stand in the record, and the edge on the recheck list.`}
          yes={`${sheet.step.done}, early`}
          onYes={() => take(sheet.step)}
          onNo={() => setSheet(null)}
        />
      )}
      {sheet?.kind === "pull" && (
        <Confirm
          title={`${name}: pulled off?`}
          text="The piece ends here; its history stays."
          yes="Pulled off"
          onYes={() => doIt("piece-removed", "pulled off")}
          onNo={() => setSheet(null)}
        />
      )}
      {sheet?.kind === "inspect" && <Inspect piece={piece} name={name} when={when} onDone={() => setSheet(null)} />}
      <Course vehicle={vehicle} piece={piece} words={words} />
      <PieceMore piece={piece} words={words} when={when} />
    </article>
  );
}

const flagWords: Record<string, string> = {
  "air-out-of-range": "The air is outside what the formulas hold for",
  "film-out-of-range": "The film is unlike any material known",
  "panel-too-hot": "The panel is hotter than 60 °C",
  condensing: "Water condenses on the panel",
  "bridged-gap": "There were no readings for a while: the slower end is assumed",
};

function heldBy(piece: Piece, step: Step, words: Words): string {
  return words.sentence(piece.milestones[step.index]?.held_by ?? "");
}

function Zones({ zones }: { zones: Zone[] }): JSX.Element {
  return (
    <div class="zones">
      {zones.map((zone, index) => (
        <div class="zone" key={index}>
          <p>
            <b>{zoneWords[zone.kind]}</b> {zone.dry_probability >= 0.9 ? "dry" : zone.dry_probability >= 0.5 ? "nearly dry" : "wet"}
          </p>
          <Bar name="Water" spread={zone.water} unit="g/m²" along={waterAlong} />
          <Bar name="Bond" spread={zone.bond} unit="%" along={(bond) => bond} times={100} />
        </div>
      ))}
    </div>
  );
}

// 40 g/m2 fills the bar; the root stretches the small end, where it matters.
const waterAlong = (water: number): number => Math.sqrt(water / 40);

// A likely value with its 10-90 % whisker; `along` gives how far along the bar a value lies, 0 to 1.
function Bar(props: { name: string; spread: Quantiles; unit: string; along: (value: number) => number; times?: number }): JSX.Element {
  const { low, likely, high } = props.spread;
  const times = props.times ?? 1;
  const at = (value: number | null): number => 100 * Math.min(1, props.along(Math.max(0, value ?? 0)));
  const text = (value: number | null): string => (value === null ? "?" : (value * times).toFixed(0));
  const label = `${props.name} ${text(likely)} ${props.unit} (${text(low)} to ${text(high)})`;
  return (
    <p class="bar">
      <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
        <rect class="ground" width="100" height="10" />
        <rect class="likely" width={at(likely)} height="10" />
        <rect class="range" x={at(low)} y="4" width={Math.max(1, at(high) - at(low))} height="2" />
      </svg>
      <span>{label}</span>
    </p>
  );
}

function Confirm(props: { title: string; text: string; yes: string; onYes: () => void; onNo: () => void }): JSX.Element {
  return (
    <div class="sheet" role="group" aria-label={props.title}>
      <p>
        <b>{props.title}</b>
      </p>
      <p>{props.text}</p>
      <p class="actions">
        <button type="button" class="primary" onClick={props.onYes}>
          {props.yes}
        </button>
        <button type="button" onClick={props.onNo}>
          Not now
        </button>
      </p>
    </div>
  );
}

const findings: { finding: Finding; text: string }[] = [
  { finding: "wet", text: "Wet" },
  { finding: "hazy", text: "Hazy" },
  { finding: "clear", text: "Clear" },
  { finding: "lifting", text: "Lifting" },
];

function Inspect(props: { piece: Piece; name: string; when: When; onDone: () => void }): JSX.Element {
  const { piece, name, when, onDone } = props;
  return (
    <div class="sheet" role="group" aria-label={`What did you see on ${name}?`}>
      <p>
        <b>What did you see and feel?</b>
      </p>
      {piece.state.zones.map((zone) => (
        <fieldset class="choice" key={zone.kind}>
          <legend>{zoneWords[zone.kind]}</legend>
          <div>
            {findings.map(({ finding, text }) => (
              <button
                type="button"
                key={finding}
                onClick={() => {
                  const deed: Deed = { what: "inspected", piece: piece.id, zone: zone.kind, finding };
                  when.tell(deed, `${name}, ${zoneWords[zone.kind].toLowerCase()}: ${text.toLowerCase()}${when.after}`);
                }}
              >
                {text}
              </button>
            ))}
          </div>
        </fieldset>
      ))}
      <button type="button" onClick={onDone}>
        Done
      </button>
    </div>
  );
}

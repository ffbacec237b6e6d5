// A piece in the shop: its state, and what can be done to it.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Finding, Piece, Quantiles, Vehicle, Zone, ZoneKind } from "../data/api";
import { Chain } from "./chain";
import { Course } from "./course";
import type { When } from "./late";
import { Looks } from "./look";
import { Outlook } from "./outlook";
import { useNow } from "./parts";
import { PieceMore } from "./piece_more";
import { askedZones, type Step, stepsOf } from "./steps";
import { sentence, type Words } from "../words/words";

type Flag = Piece["state"]["validity"][number];
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

  const doIt = (what: "edge-wrapped" | "trimmed" | "refitted" | "piece-removed", said: string): void => {
    if (when.tell({ what, piece: piece.id }, words.about(name, said))) {
      setSheet(null);
    }
  };
  const take = (step: Step): void => {
    if (!step.event) {
      return;
    }
    if (step.mark === "ready" || (sheet?.kind === "early" && sheet.step.which === step.which)) {
      doIt(step.event, words.done(step.event));
    } else {
      setSheet({ kind: "early", step });
    }
  };

  return (
    <article class="card piece" ref={card} aria-label={name}>
      <h3>
        {name} <small>{words.say("vehicle.laid-how", { when: words.when(piece.laid, now), wetness: words.wetness(piece.wetness) })}</small>
        {piece.gone.map((kind) => (
          <small key={kind}>
            {" "}
            {words.say(`vehicle.gone-${kind}`, { key: piece[kind] })}
          </small>
        ))}
      </h3>
      <Outlook piece={piece} words={words} />
      <Looks piece={piece} words={words} tell={when.tell} />
      <Chain piece={piece} words={words} tell={when.tell} />
      {piece.state.validity.length > 0 && <p class="old">{piece.state.validity.map((flag) => flagWords(flag, words)).join("; ")}</p>}
      <Zones piece={piece} words={words} />
      {piece.early_steps.map((early) => (
        <p class="early" key={early.event}>
          {words.say("vehicle.done-early", { step: words.done(early.step), still_wet: words.fact(early.still_wet) })}
        </p>
      ))}
      {when.late && <p class="old">{words.say("when.told-late", { when: when.then })}</p>}
      <p class="actions">
        {stepsOf(piece)
          .filter((step) => step.event && step.mark !== "done")
          .map((step) => (
            <button type="button" key={step.which} class={step.mark === "ready" ? "primary" : ""} onClick={() => take(step)}>
              {doneWords(step, words)}
              {step.mark !== "ready" && <small> {words.say("vehicle.early")}</small>}
            </button>
          ))}
        <button type="button" onClick={() => setSheet({ kind: "inspect" })}>
          {words.title("vehicle.event-inspected")}
        </button>
        <a class="button deed" href={`#/vehicle/${vehicle.id}/lay?again=${piece.id}`}>
          {words.say("vehicle.lay-again")}
        </a>
        <button type="button" onClick={() => setSheet({ kind: "pull" })}>
          {words.title("vehicle.event-piece-removed")}
        </button>
      </p>
      {sheet?.kind === "early" && (
        <Confirm
          title={words.say("vehicle.early-question", { step: doneWords(sheet.step, words) })}
          text={earlyText(sheet.step, words)}
          yes={words.say("vehicle.early-yes", { step: doneWords(sheet.step, words) })}
          no={words.say("vehicle.not-now")}
          onYes={() => take(sheet.step)}
          onNo={() => setSheet(null)}
        />
      )}
      {sheet?.kind === "pull" && (
        <Confirm
          title={words.say("vehicle.pull-question", { piece: name })}
          text={words.say("vehicle.pull-text")}
          yes={words.title("vehicle.event-piece-removed")}
          no={words.say("vehicle.not-now")}
          onYes={() => doIt("piece-removed", words.say("vehicle.event-piece-removed"))}
          onNo={() => setSheet(null)}
        />
      )}
      {sheet?.kind === "inspect" && <Inspect piece={piece} name={name} words={words} when={when} onDone={() => setSheet(null)} />}
      <Course vehicle={vehicle} piece={piece} words={words} />
      <PieceMore piece={piece} words={words} when={when} />
    </article>
  );
}

const hottest = 60; // C: what the model holds for

const flagWords = (flag: Flag, words: Words): string =>
  flag === "panel-too-hot" ? words.say("vehicle.flag-panel-too-hot", { limit: words.temperature(hottest) }) : words.say(`vehicle.flag-${flag}`);

const doneWords = ({ event }: Step, words: Words): string => (event ? sentence(words.done(event)) : "");

function earlyText({ milestone }: Step, words: Words): string {
  const held_by = words.fact(milestone.held_by);
  return held_by === "" ? words.say("vehicle.early-text-unknown") : words.say("vehicle.early-text", { held_by });
}

// In g/m2, rounded as facts are.
const waterWords = (water: number, words: Words): string => words.figure(Math.round(100 * water) / 100);

// Whether somebody has seen that it is clear there.
function isClearByWord(piece: Piece, kind: ZoneKind): boolean {
  return piece.milestones.some(({ which, announced, by_word }) => announced !== null && by_word && askedZones(which, piece).includes(kind));
}

// Still wet where more of it is likely to be wet than the shop allows: then its liquid is not likely to be gone.
function wetWords(piece: Piece, { kind, wet_share, gone_probability }: Zone, words: Words): string {
  if (isClearByWord(piece, kind)) {
    return words.say("vehicle.zone-clear");
  }
  if (gone_probability >= 0.5) {
    return words.say("vehicle.zone-gone", { share: words.chance(gone_probability) });
  }
  return wet_share.likely === null ? words.finding("wet") : words.say("vehicle.zone-wet", { share: words.share(wet_share.likely) });
}

function Zones({ piece, words }: { piece: Piece; words: Words }): JSX.Element {
  return (
    <div class="zones">
      {piece.state.zones.map((zone, index) => (
        <div class="zone" key={index}>
          <p>
            <b>{sentence(words.zone(zone.kind))}</b> {wetWords(piece, zone, words)}
          </p>
          <Bar name="vehicle.water" unit="units.water" spread={zone.water} text={(water) => waterWords(water, words)} along={waterAlong} words={words} />
          <Bar name="vehicle.bond" unit="units.share" spread={zone.bond} text={(bond) => words.number(100 * bond, 0)} along={(bond) => bond} words={words} />
        </div>
      ))}
    </div>
  );
}

// 40 g/m2 fills the bar; the root stretches the small end, where it matters.
const waterAlong = (water: number): number => Math.sqrt(water / 40);

// A likely value with its 10-90 % whisker; `text` writes a value, `along` gives how far along the bar it lies, 0 to 1.
function Bar(props: {
  name: "vehicle.water" | "vehicle.bond";
  unit: "units.water" | "units.share";
  spread: Quantiles;
  text: (value: number) => string;
  along: (value: number) => number;
  words: Words;
}): JSX.Element {
  const { name, unit, words } = props;
  const { low, likely, high } = props.spread;
  const at = (value: number | null): number => 100 * Math.min(1, props.along(Math.max(0, value ?? 0)));
  const text = (value: number | null): string => (value === null ? "?" : props.text(value));
  const label = words.say(name, { likely: words.say(unit, { n: text(likely) }), low: text(low), high: text(high) });
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

function Confirm(props: { title: string; text: string; yes: string; no: string; onYes: () => void; onNo: () => void }): JSX.Element {
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
          {props.no}
        </button>
      </p>
    </div>
  );
}

const findings: Finding[] = ["wet", "hazy", "clear", "lifting"];

function Inspect(props: { piece: Piece; name: string; words: Words; when: When; onDone: () => void }): JSX.Element {
  const { piece, name, words, when, onDone } = props;
  const { zones } = piece;
  const look = (finding: Finding, where: ZoneKind[], there: string): void =>
    void when.tell(
      where.map((zone) => ({ what: "inspected", piece: piece.id, zone, finding })),
      words.say("vehicle.inspected", { piece: name, zone: there, finding: words.finding(finding) }),
    );
  return (
    <div class="sheet" role="group" aria-label={words.say("vehicle.inspect-piece", { piece: name })}>
      <p>
        <b>{words.say("vehicle.inspect")}</b>
      </p>
      {zones.length > 1 && (
        <button type="button" class="wide" onClick={() => look("clear", zones, words.say("vehicle.everywhere"))}>
          {words.say("vehicle.all-clear")}
        </button>
      )}
      {zones.map((kind) => (
        <fieldset class="choice" key={kind}>
          <legend>{sentence(words.zone(kind))}</legend>
          <div>
            {findings.map((finding) => (
              <button type="button" key={finding} onClick={() => look(finding, [kind], words.zone(kind))}>
                {sentence(words.finding(finding))}
              </button>
            ))}
          </div>
        </fieldset>
      ))}
      <button type="button" onClick={onDone}>
        {words.say("vehicle.inspect-done")}
      </button>
    </div>
  );
}

// A piece in the shop, opened: its state, and what can be done to it.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Piece, Vehicle } from "../data/api";
import { Chain } from "./chain";
import { Cut } from "./cut";
import type { When } from "./late";
import { LookAtAny } from "./look";
import { Outlook } from "./outlook";
import { useNow } from "./parts";
import { PieceMore } from "./piece_more";
import { type Step, stepsOf } from "./steps";
import { sentence, type Words } from "../words/words";

type Flag = Piece["state"]["validity"][number];
type Sheet = { kind: "early"; step: Step } | { kind: "pull" } | null;

// `shown`: somebody came for it, by a link.
export function PieceCard(props: { vehicle: Vehicle; piece: Piece; words: Words; shown: boolean; when: When }): JSX.Element {
  const { vehicle, piece, words, when } = props;
  const now = useNow();
  const [sheet, setSheet] = useState<Sheet>(null);
  const card = useRef<HTMLElement>(null);
  useEffect(() => {
    if (props.shown) {
      card.current?.scrollIntoView({ block: "center" });
    }
  }, [props.shown]);
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
      <Outlook vehicle={vehicle} piece={piece} words={words} />
      <Chain piece={piece} words={words} />
      {piece.state.validity.length > 0 && <p class="old">{piece.state.validity.map((flag) => flagWords(flag, words)).join("; ")}</p>}
      <Cut piece={piece} words={words} />
      <p class="small">
        {words.title("vehicle.laid-how", { when: words.when(piece.laid, now), wetness: words.wetness(piece.wetness) })}
        {piece.gone.map((kind) => (
          <span key={kind}> {words.say(`vehicle.gone-${kind}`, { key: piece[kind] })}</span>
        ))}
      </p>
      {piece.early_steps.map((early) => (
        <p class="early" key={early.event}>
          {words.say("vehicle.done-early", { step: words.done(early.step), still_wet: words.fact(early.still_wet) })}
        </p>
      ))}
      <LookAtAny piece={piece} words={words} tell={when.tell} />
      {when.late && <p class="old">{words.say("when.told-late", { when: when.then })}</p>}
      <div class="deed" role="group" aria-label={words.say("vehicle.did-question")}>
        <h4>{words.say("vehicle.did-question")}</h4>
        <p class="two">
          {stepsOf(piece)
            .filter((step) => step.event && step.mark !== "done")
            .map((step) => (
              <button type="button" key={step.which} class={step.mark === "ready" ? "primary" : ""} onClick={() => take(step)}>
                {doneWords(step, words)}
                {step.mark !== "ready" && <small> {words.say("vehicle.early")}</small>}
              </button>
            ))}
          <a class="button" href={`#/vehicle/${vehicle.id}/lay?again=${piece.id}`}>
            {words.say("vehicle.lay-again")}
          </a>
          <button type="button" onClick={() => setSheet({ kind: "pull" })}>
            {words.title("vehicle.event-piece-removed")}
          </button>
        </p>
      </div>
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
      <PieceMore vehicle={vehicle} piece={piece} words={words} when={when} />
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

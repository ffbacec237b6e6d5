// A piece in one line, as every list has it: board, vehicle, recheck and wall.
import type { ComponentChildren, JSX } from "preact";
import type { Vehicle } from "../data/api";
import type { Axis } from "./axis";
import { Band } from "./band";
import type { Line } from "./lines";
import { Sign } from "./parts";
import type { NamedPiece, Words } from "../words/words";

// Beside the pieces of several vehicles: whose one is, boxed where it is not that of most.
export type Tags = Map<number, { text: string; boxed: boolean }>;

export function tagsOf(vehicles: Vehicle[]): Tags {
  const most = Math.max(...vehicles.map((one) => one.pieces.length));
  const first = vehicles.find((one) => one.pieces.length === most);
  return new Map(vehicles.length < 2 ? [] : vehicles.map((one) => [one.id, { text: one.reference, boxed: one !== first }]));
}

// `apart`: where it is stands in a line of its own.
export function PieceName(props: { piece: NamedPiece; tag?: { text: string; boxed: boolean } | undefined; apart?: boolean; words: Words }): JSX.Element {
  const { piece, tag, apart = false, words } = props;
  const { name, place } = words.pieceParts(piece);
  const after = (
    <>
      {place}
      {place && tag && " "}
      {tag && <em class={tag.boxed ? "tag boxed" : "tag"}>{tag.text}</em>}
    </>
  );
  return apart ? (
    <span class="nm">
      <b>{name}</b> {(place || tag) && <span class="where">{after}</span>}
    </span>
  ) : (
    <span class="nm">
      <b>{name}</b>
      {place ? ", " : " "}
      {after}
    </span>
  );
}

// "06:20"; with the day where it lies beyond the axis; why there is none.
export function timeWords({ at, unknown, mark }: Line, axis: Axis, words: Words): string {
  if (at !== null) {
    return axis.along(at) < 1 ? words.clockAt(at) : words.when(new Date(at), new Date(axis.now));
  }
  return mark !== "waiting" ? "" : words.say(unknown ? "board.no-estimate-yet" : "board.no-time-yet");
}

interface LineProps {
  line: Line;
  axis: Axis;
  tags: Tags;
  old: boolean; // what is known of its air
  words: Words;
}
export function PieceLine({ line, axis, tags, old, words }: LineProps): JSX.Element {
  const { piece, vehicle, step, at, late, unknown } = line;
  const unsure = old || unknown !== null;
  return (
    <>
      <span class="ln">
        <PieceName piece={piece} tag={tags.get(vehicle.id)} words={words} />
        {step && <span class="st">{words.shortStep(step.which)}</span>}
        <span class={`tm ${late ? "late" : ""} ${at === null ? "none" : ""}`}>
          {late && <Sign of="late" />}
          {late && <span class="vh">{words.say("board.late")} </span>}
          {old && at !== null && "~"}
          {timeWords(line, axis, words)}
        </span>
      </span>
      <Band line={line} axis={axis} unsure={unsure} />
    </>
  );
}

// A piece with what one may answer about it.
export function AnswerRow({ name, children }: { name: JSX.Element; children: ComponentChildren }): JSX.Element {
  return (
    <div class="answer">
      {name}
      {children}
    </div>
  );
}

export function AxisHead({ axis }: { axis: Axis }): JSX.Element {
  return (
    <div class="axis" aria-hidden="true">
      {axis.ticks.map(({ at, text, what }) => (
        <span key={`${what} ${at}`} class={what} style={{ left: `${(100 * at).toFixed(2)}%` }}>
          {what === "flag" && <Sign of="flag" />}
          {what === "moon" ? <Sign of="moon" /> : text}
        </span>
      ))}
    </div>
  );
}
export function Nights({ axis }: { axis: Axis }): JSX.Element {
  return (
    <>
      {axis.nights.map(({ from, to }) => (
        <i key={from} class="night" style={{ left: `${(100 * from).toFixed(2)}%`, width: `${(100 * (to - from)).toFixed(2)}%` }} />
      ))}
    </>
  );
}

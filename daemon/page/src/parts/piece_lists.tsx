// Pieces by what can be done: marked and told in one tap, looked at in one, or seen coming.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Bay, Deed, Vehicle } from "../data/api";
import { useKnown } from "../data/store";
import { type StepEvent, type Words } from "../words/words";
import { isOld } from "./air_now";
import { axisOf } from "./axis";
import type { When } from "./late";
import { groupsOf, type Line, linesOf } from "./lines";
import { LookAnswers } from "./look";
import { AtFoot, Sign, useNow } from "./parts";
import { PieceCard } from "./piece";
import { AxisHead, Nights, PieceLine, PieceName, type Tags, tagsOf } from "./row";

interface Props {
  vehicles: Vehicle[];
  bays: Bay[];
  words: Words;
  when: When;
  open: number | null; // the piece whose card is open at first
  only?: (line: Line) => boolean; // which of them
}
interface Shared extends Props {
  opened: number | null;
  setOpened: (piece: number | null) => void;
  tags: Tags;
}

// What was tapped about a piece and is not on the board yet.
function useToldOf(): Set<string> {
  const { waiting, fresh } = useKnown();
  const deeds: Deed[] = [...waiting.map(({ deed }) => deed), ...fresh.map(({ deed }) => deed)];
  return new Set(deeds.flatMap((deed) => ("piece" in deed && typeof deed.piece === "number" ? [`${deed.piece} ${deed.what}`] : [])));
}
const isTold = (told: Set<string>, { piece, step, mark }: Line): boolean => told.has(`${piece.id} ${mark === "look" ? "inspected" : (step?.event ?? "")}`);

export function PieceLists(props: Props): JSX.Element {
  const { vehicles, bays, words, only = () => true } = props;
  const now = useNow();
  const [opened, setOpened] = useState(props.open);
  useEffect(() => setOpened(props.open), [props.open]);
  const told = useToldOf();
  const lines = linesOf(vehicles).filter(only);
  const waits = lines.filter((line) => isTold(told, line));
  const groups = groupsOf(lines.filter((line) => !waits.includes(line) || opened === line.piece.id), now.getTime(), words.site.time_zone);
  const shared = { ...props, opened, setOpened, tags: tagsOf(vehicles) };
  const doable = groups.ready.length + groups.looks.length > 0;
  const flags = vehicles.flatMap(({ hand_over }) => (hand_over ? [Date.parse(hand_over)] : []));
  const first = groups.coming[0]?.lines[0];
  return (
    <div class={doable ? "lists" : "lists one"}>
      {doable ? (
        <div>
          {groups.ready.length > 0 && <Ready groups={groups.ready} shared={shared} />}
          {groups.looks.length > 0 && <ToLook lines={groups.looks} shared={shared} />}
        </div>
      ) : (
        first?.at && (
          <p class="nothing">
            {words.say("board.nothing-ready", { piece: words.piece(first.piece), step: words.shortStep(first.step?.which ?? "may-leave"), when: words.when(new Date(first.at), now) })}
          </p>
        )
      )}
      <div>
        {groups.coming.length > 0 && <Coming groups={groups.coming} flags={flags} old={new Set(bays.filter((bay) => isOld(bay, now)).map(({ name }) => name))} shared={shared} />}
        {groups.rest.length > 0 && <Rest lines={groups.rest} flags={flags} shared={shared} />}
      </div>
    </div>
  );
}

function Card({ line: { vehicle, piece }, shared }: { line: Line; shared: Shared }): JSX.Element | null {
  const { words, when, opened, open } = shared;
  return opened === piece.id ? <PieceCard key={piece.id} vehicle={vehicle} piece={piece} words={words} when={when} shown={open === piece.id} /> : null;
}

// A link to its card, which opens where the piece stands.
function Opener(props: { line: Line; shared: Shared; class: string; children: JSX.Element }): JSX.Element {
  const { line, shared } = props;
  const { vehicle, piece } = line;
  const is_open = shared.opened === piece.id;
  return (
    <a
      class={props.class}
      href={`#/vehicle/${vehicle.id}?piece=${piece.id}`}
      aria-expanded={is_open}
      onClick={(event) => {
        event.preventDefault();
        shared.setOpened(is_open ? null : piece.id);
      }}
    >
      {props.children}
    </a>
  );
}

const keyOf = ({ piece }: Line): number => piece.id;

function Ready({ groups, shared }: { groups: ReturnType<typeof groupsOf>["ready"]; shared: Shared }): JSX.Element {
  const { words, when, tags } = shared;
  const [marked, setMarked] = useState<Set<number>>(new Set());
  const all = groups.flatMap(({ lines }) => lines);
  const here = all.filter((line) => marked.has(keyOf(line)));
  const mark = (lines: Line[], on: boolean): void => {
    const next = new Set(here.map(keyOf));
    lines.forEach((line) => (on ? next.add(keyOf(line)) : next.delete(keyOf(line))));
    setMarked(next);
  };
  const counts = new Map<StepEvent, number>();
  const deeds = here.flatMap(({ piece, step }): Deed[] => {
    const what = step?.event;
    if (!what) {
      return [];
    }
    counts.set(what, (counts.get(what) ?? 0) + 1);
    return [{ what, piece: piece.id }];
  });
  const done = words.doneCounts(counts);
  const [only] = here;
  const said = only && here.length === 1 && only.step?.event ? words.about(words.piece(only.piece), words.done(only.step.event)) : done;
  const tell = (): void => {
    if (when.tell(deeds, said)) {
      setMarked(new Set());
      shared.setOpened(null);
    }
  };
  return (
    <section aria-labelledby="ready">
      <h2 id="ready">
        {words.say("board.ready-now")} <span class="count">{all.length}</span>
      </h2>
      {groups.map(({ which, lines }) => {
        const whole = lines.every((line) => marked.has(keyOf(line)));
        return (
          <div class="group" key={which}>
            <ul class="pair" aria-label={words.step(which)}>
              <li>
                <button type="button" class="step" aria-pressed={whole} onClick={() => mark(lines, !whole)}>
                  <Sign of="ready" />
                  <span>
                    {words.step(which)}
                    <small>{words.say("board.mark-all", { count: lines.length })}</small>
                  </span>
                </button>
                <span class="step plain-step">
                  <Sign of="ready" /> {words.step(which)}
                </span>
              </li>
              {lines.map((line) => (
                <li key={keyOf(line)}>
                  <label class="tile">
                    <input type="checkbox" checked={marked.has(keyOf(line))} onChange={(event) => mark([line], event.currentTarget.checked)} />
                    <i class="tick">
                      <Sign of="sound" />
                    </i>
                    <PieceName piece={line.piece} tag={tags.get(line.vehicle.id)} words={words} apart />
                  </label>
                </li>
              ))}
            </ul>
            {lines.map((line) => (
              <Card key={keyOf(line)} line={line} shared={shared} />
            ))}
          </div>
        );
      })}
      {here.length > 0 && (
        <AtFoot>
          <div class="deed-bar deed">
            {only && here.length === 1 && (
              <button
                type="button"
                onClick={() => {
                  setMarked(new Set());
                  shared.setOpened(keyOf(only));
                }}
              >
                {words.say("board.open")}
              </button>
            )}
            <button type="button" class="primary" onClick={tell}>
              {words.say("board.done", { done })}
              {when.late && <small> {when.then}</small>}
            </button>
          </div>
        </AtFoot>
      )}
    </section>
  );
}

function ToLook({ lines, shared }: { lines: Line[]; shared: Shared }): JSX.Element {
  const { words, when, tags } = shared;
  return (
    <section aria-labelledby="looks">
      <h2 id="looks">
        {words.say("board.worth-a-look")} <span class="count">{lines.length}</span>
      </h2>
      <ul class="bare">
        {lines.map((line) => (
          <li key={keyOf(line)}>
            <LookAnswers
              line={line}
              words={words}
              tell={when.tell}
              name={
                <Opener line={line} shared={shared} class="name">
                  <PieceName piece={line.piece} tag={tags.get(line.vehicle.id)} words={words} apart />
                </Opener>
              }
            />
            <Card line={line} shared={shared} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Coming(props: { groups: ReturnType<typeof groupsOf>["coming"]; flags: number[]; old: Set<string>; shared: Shared }): JSX.Element {
  const { groups, flags, old, shared } = props;
  const { words, tags } = shared;
  const now = useNow();
  const axis = axisOf(now.getTime(), flags, words);
  return (
    <section class="time" aria-label={words.say("board.coming")}>
      <div class="axis-place">
        <AxisHead axis={axis} />
      </div>
      <div class="nights">
        <Nights axis={axis} />
      </div>
      {groups.map(({ until, lines }) => (
        <div key={until?.what ?? "later"}>
          <h3>
            {words.say(until ? `board.by-${until.what}` : "board.later")} {until && <small>{untilWords(until.at, now, words)}</small>}
          </h3>
          <ul class="bare">
            {lines.map((line) => (
              <li key={keyOf(line)}>
                <Opener line={line} shared={shared} class="row">
                  <PieceLine line={line} axis={axis} tags={tags} old={old.has(line.vehicle.bay)} words={words} />
                </Opener>
                <Card line={line} shared={shared} />
              </li>
            ))}
          </ul>
        </div>
      ))}
    </section>
  );
}

// "22:00" today, "Wed 07:00" else.
function untilWords(at: number, now: Date, words: Words): string {
  return words.weekday(at) === words.weekday(now.getTime()) ? words.clockAt(at) : words.when(new Date(at), now);
}

// No step is left on them: in one line, each a tap away.
function Rest({ lines, flags, shared }: { lines: Line[]; flags: number[]; shared: Shared }): JSX.Element {
  const { words, tags, opened } = shared;
  const now = useNow();
  const [shown, show] = useState(false);
  const axis = axisOf(now.getTime(), flags, words);
  return (
    <details class="rest" open={shown || lines.some((line) => keyOf(line) === opened)} onToggle={(event) => show(event.currentTarget.open)}>
      <summary>
        <Sign of="done" />
        <span>
          {words.say("board.no-step-left", { count: lines.length })} <u>{lines.map(({ piece }) => words.piece(piece)).join(", ")}</u>
        </span>
      </summary>
      <ul class="bare">
        {lines.map((line) => (
          <li key={keyOf(line)}>
            <Opener line={line} shared={shared} class="row">
              <PieceLine line={line} axis={axis} tags={tags} old={false} words={words} />
            </Opener>
            <Card line={line} shared={shared} />
          </li>
        ))}
      </ul>
    </details>
  );
}

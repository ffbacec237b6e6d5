// For a screen on the wall, read from three metres: all of it at once, nothing to tap.
import type { JSX } from "preact";
import type { Bay, Board, Vehicle } from "../data/api";
import type { Link } from "../data/live";
import { AirAge, airWords, isOld } from "../parts/air_now";
import { axisOf, isNight } from "../parts/axis";
import { groupsOf, type Line, linesOf } from "../parts/lines";
import { Sign, useNow } from "../parts/parts";
import { AxisHead, Nights, PieceLine, PieceName, type Tags, tagsOf, timeWords } from "../parts/row";
import { agreedWords, lateBy, releaseSign, releaseWords } from "../parts/release_state";
import type { Words } from "../words/words";

const right_rows = 14; // with a band; what comes after them stands on the left, in words
const left_height = 40; // lines of it, heads included, that can be read
const vehicles_shown = 2;

export function WallScreen(props: { board: Board; received: number; link: Link; words: Words }): JSX.Element {
  const { board, received, link, words } = props;
  const now = useNow();
  const here = board.vehicles.filter((vehicle) => !vehicle.released);
  const old = new Set(board.bays.filter((bay) => isOld(bay, now)).map(({ name }) => name));
  const { ready, looks, coming, rest } = groupsOf(linesOf(here), now.getTime(), words.site.time_zone);
  const tags = tagsOf(here);
  const waiting = coming.flatMap(({ until, lines }) => lines.map((line, index) => ({ line, cut: until?.what === "morning" && index === lines.length - 1 ? until : null })));
  const shown = waiting.slice(0, right_rows);
  const later = waiting.slice(right_rows).map(({ line }) => line);
  const axis = axisOf(now.getTime(), here.flatMap(({ hand_over }) => (hand_over ? [Date.parse(hand_over)] : [])), words);
  const bay = [...board.bays].sort((a, b) => Number(b.as_of !== null) - Number(a.as_of !== null))[0];
  const stale = link !== "live" || (bay !== undefined && bay.as_of !== null && isOld(bay, now));
  const left = ready.reduce((sum, group) => sum + group.lines.length, 0) + looks.length + later.length + 3;
  const dim = isNight(now, words.site.time_zone);
  return (
    <div class={`wall ${dim ? "dim" : ""} ${stale ? "stale" : ""} ${shown.length === 0 ? "no-time" : ""}`}>
      <header>
        <h1>{words.when(now, now)}</h1>
        {here.slice(0, vehicles_shown).map((vehicle) => (
          <WallVehicle key={vehicle.id} vehicle={vehicle} lines={waiting.map(({ line }) => line)} words={words} />
        ))}
        {here.length > vehicles_shown && <p class="more">+{here.length - vehicles_shown}</p>}
        <Age bay={bay} received={received} link={link} words={words} />
      </header>
      <main style={{ "--lines": Math.min(left_height, Math.max(shown.length === 0 ? Math.ceil(left / 2) : left, 10)) }}>
        <section>
          <h2 class="ready">
            <Sign of="ready" />
            {words.say("board.ready-now")} <b>{ready.reduce((sum, group) => sum + group.lines.length, 0)}</b>
          </h2>
          {ready.map(({ which, lines }) => (
            <div class="of-step" key={which}>
              <h3>
                <span>{words.shortStep(which)}</span>
              </h3>
              <Names lines={lines} tags={tags} words={words} />
            </div>
          ))}
          {looks.length > 0 && (
            <h2>
              <Sign of="look" />
              {words.say("board.worth-a-look")} <b>{looks.length}</b>
            </h2>
          )}
          <Names lines={looks} tags={tags} words={words} />
          {later.length > 0 && <h2>{words.say("board.later")}</h2>}
          <ul class="names later">
            {later.map((line) => (
              <li key={line.piece.id}>
                <PieceName piece={line.piece} tag={tags.get(line.vehicle.id)} words={words} />
                <span class="tm">{timeWords(line, axis, words)}</span>
              </li>
            ))}
          </ul>
          {rest.length > 0 && shown.length + ready.length + looks.length === 0 && <p class="rest">{words.say("board.no-step-left", { count: rest.length })}</p>}
        </section>
        {shown.length > 0 && (
          <section class="time" style={{ "--rows": Math.max(shown.length, 10) }}>
            <AxisHead axis={axis} />
            <div class="nights">
              <Nights axis={axis} />
            </div>
            <ul>
              {shown.map(({ line, cut }) => (
                <li key={line.piece.id} class={cut ? "cut-line" : undefined}>
                  <PieceLine line={line} axis={axis} tags={tags} old={stale || old.has(line.vehicle.bay)} words={words} />
                  {cut && <span class="by">{words.say("board.by-clock", { when: words.clockAt(cut.at) })}</span>}
                </li>
              ))}
            </ul>
          </section>
        )}
      </main>
    </div>
  );
}

function WallVehicle({ vehicle, lines, words }: { vehicle: Vehicle; lines: Line[]; words: Words }): JSX.Element {
  const now = useNow();
  const last = lines.filter((line) => line.vehicle.id === vehicle.id && line.late).at(-1);
  return (
    <p class={lateBy(vehicle) === null ? "vehicle" : "vehicle late"}>
      <span>
        <Sign of={releaseSign(vehicle)} />
        <b>{vehicle.reference}</b> {agreedWords(vehicle, now, words)}
      </span>
      <span class="state">
        {last && lateBy(vehicle) !== null ? words.about(releaseWords(vehicle, now, words), words.piece(last.piece)) : releaseWords(vehicle, now, words)}
      </span>
    </p>
  );
}

function Names({ lines, tags, words }: { lines: Line[]; tags: Tags; words: Words }): JSX.Element {
  return (
    <ul class="names">
      {lines.map((line) => (
        <li key={line.piece.id}>
          <PieceName piece={line.piece} tag={tags.get(line.vehicle.id)} words={words} />
        </li>
      ))}
    </ul>
  );
}

// How old what stands here is: of the air, and of the page itself where the connection is lost.
function Age(props: { bay: Bay | undefined; received: number; link: Link; words: Words }): JSX.Element {
  const { bay, received, link, words } = props;
  return (
    <p class="of-air">
      {bay && (
        <b>
          {words.bay(bay.name)} {airWords(bay, words)}
        </b>
      )}
      {link === "live" ? bay && <AirAge bay={bay} words={words} /> : <span class="age old">{words.say("board.last-update", { ago: words.ago(Date.now() - received) })}</span>}
    </p>
  );
}

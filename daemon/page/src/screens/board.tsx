// What the installer sees first, in one screen: what may be done now, what is to be looked at, what comes when.
import type { JSX } from "preact";
import { AlertLine } from "./alerts";
import type { Bay, Board, Vehicle } from "../data/api";
import { HandedOverRow, isDue, useHandedOver } from "./handed_over";
import { useWhen } from "../parts/late";
import { AirAge, airWords } from "../parts/air_now";
import { Sign, useNow } from "../parts/parts";
import { PieceLists } from "../parts/piece_lists";
import { toLayWords } from "../parts/plan";
import { PlateLook } from "../parts/plate_look";
import { ReleaseShort, releaseSign } from "../parts/release_state";
import { laidNow } from "../parts/steps";
import type { Words } from "../words/words";

export function BoardScreen({ board, words }: { board: Board; words: Words }): JSX.Element {
  const when = useWhen(words);
  const here = board.vehicles.filter((vehicle) => !vehicle.released);
  const gone = board.vehicles.filter((vehicle) => vehicle.released);
  return (
    <>
      <Head board={board} here={here} words={words} />
      <AlertLine board={board} words={words} />
      <section aria-labelledby="vehicles" class="vehicles">
        <h2 id="vehicles" class="vh">
          {words.say("board.vehicles")}
        </h2>
        {here.length === 0 ? (
          <>
            <p class="empty">{words.say("board.no-vehicle")}</p>
            <a class="button primary wide deed" href="#/arrive">
              {words.say("arrive.vehicle-in")}
            </a>
          </>
        ) : (
          <ul class="pair">
            {here.map((vehicle) => (
              <VehicleChip key={vehicle.id} vehicle={vehicle} words={words} />
            ))}
          </ul>
        )}
      </section>
      <PieceLists vehicles={here} bays={board.bays} words={words} when={when} open={null} />
      <Waits board={board} words={words} />
      <Bays bays={otherBays(board, here)} words={words} />
      {gone.length > 0 && <Gone gone={gone} words={words} />}
      <More here={here} words={words} />
    </>
  );
}

// That something was laid on, or that came in last.
function newest(here: Vehicle[]): Vehicle | undefined {
  const at = (vehicle: Vehicle): number => Math.max(Date.parse(vehicle.arrived), ...vehicle.pieces.map((piece) => Date.parse(piece.laid)));
  return [...here].sort((a, b) => at(b) - at(a))[0];
}

// Where most pieces dry, of those whose air is known.
function mainBay({ bays }: Board, here: Vehicle[]): Bay | undefined {
  const pieces = ({ name }: Bay): number => here.filter(({ bay }) => bay === name).reduce((sum, vehicle) => sum + 1 + laidNow(vehicle).length, 0);
  return [...bays].sort((a, b) => Number(b.as_of !== null) - Number(a.as_of !== null) || pieces(b) - pieces(a))[0];
}

// Besides that: what stands or is measured in them is worth a line.
function otherBays(board: Board, here: Vehicle[]): Bay[] {
  const main = mainBay(board, here);
  return board.bays.filter((bay) => bay !== main && (bay.as_of !== null || here.some((vehicle) => vehicle.bay === bay.name)));
}

function Head({ board, here, words }: { board: Board; here: Vehicle[]; words: Words }): JSX.Element {
  const now = useNow();
  const bay = mainBay(board, here);
  const lay_on = newest(here);
  return (
    <div class="board-head">
      <h1>{words.when(now, now)}</h1>
      {bay && (
        <a class="air" href={`#/bay/${encodeURIComponent(bay.name)}`}>
          <span class="figures-now">
            {words.bay(bay.name)} {airWords(bay, words)}
          </span>
          <AirAge bay={bay} words={words} />
        </a>
      )}
      {lay_on && (
        <a class="button deed" href={`#/vehicle/${lay_on.id}/lay`} aria-label={words.say("board.lay-on", { reference: lay_on.reference })}>
          {words.say("board.lay")}
        </a>
      )}
    </div>
  );
}

function VehicleChip({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element {
  const now = useNow();
  return (
    <li>
      <a href={`#/vehicle/${vehicle.id}`} class="chip">
        <Sign of={releaseSign(vehicle)} />
        <span>
          <b>{vehicle.reference}</b>
          <span class="line">
            <ReleaseShort vehicle={vehicle} words={words} />
          </span>
          {vehicle.to_lay.length > 0 && <span class="line">{toLayWords(vehicle, words, now)}</span>}
        </span>
      </a>
    </li>
  );
}

// What asks for somebody, besides the pieces: rechecks, plates, sensors, and edges that were done early.
function Waits({ board, words }: { board: Board; words: Words }): JSX.Element | null {
  const now = useNow();
  const due = (useHandedOver(board.applied) ?? []).filter((vehicle) => isDue(vehicle, now));
  const plates = board.bays.flatMap((bay) => bay.to_look);
  const waits = board.waits.filter(({ kind }) => kind !== "look"); // those stand above
  if (due.length + plates.length + waits.length === 0) {
    return null;
  }
  return (
    <section aria-labelledby="waits">
      <h2 id="waits">{words.say("board.waits-for-you")}</h2>
      {plates.map(({ plate, zone, what }) => (
        <PlateLook key={`${plate} ${zone}`} plate={plate} zone={zone} question={words.sentence(what)} words={words} />
      ))}
      <ul class="rows">
        {due.map((vehicle) => (
          <HandedOverRow key={vehicle.id} vehicle={vehicle} words={words} />
        ))}
        {waits.map(({ vehicle, piece, sensor, what }) => (
          <li key={`${piece} ${sensor}`}>
            <a href={vehicle === null ? "#/sensors" : `#/vehicle/${vehicle}?piece=${piece}`}>{words.sentence(what)}</a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Bays({ bays, words }: { bays: Bay[]; words: Words }): JSX.Element | null {
  return bays.length === 0 ? null : (
    <section aria-labelledby="bays">
      <h2 id="bays">{words.say("board.bays")}</h2>
      <ul class="rows">
        {bays.map((bay) => (
          <li key={bay.name}>
            <a href={`#/bay/${encodeURIComponent(bay.name)}`}>
              <b>{words.bay(bay.name)}</b> {bay.gone && words.say("board.bay-gone")} {airWords(bay, words)} <AirAge bay={bay} words={words} />
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Gone({ gone, words }: { gone: Vehicle[]; words: Words }): JSX.Element {
  const now = useNow();
  return (
    <section aria-labelledby="released">
      <h2 id="released">{words.say("board.released")}</h2>
      <ul class="rows">
        {gone.map((vehicle) => (
          <li key={vehicle.id}>
            <a href={`#/vehicle/${vehicle.id}`}>
              <b>{vehicle.reference}</b> {words.say("rechecks.released-at", { when: words.when(vehicle.released ?? "", now) })}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function More({ here, words }: { here: Vehicle[]; words: Words }): JSX.Element {
  const links = [
    ["#/handed-over", "rechecks.handed-over"],
    ["#/alerts", "alerts-page.alerts"],
    ["#/rechecks", "rechecks.say"],
    ["#/wall", "board.wall"],
    ["#/settings", "settings.settings"],
  ] as const;
  return (
    <nav class="more" aria-label={words.say("board.more")}>
      {here.length > 0 && (
        <a class="deed" href="#/arrive">
          {words.say("arrive.vehicle-in")}
        </a>
      )}
      {links.map(([href, key]) => (
        <a key={href} href={href}>
          {words.say(key)}
        </a>
      ))}
    </nav>
  );
}

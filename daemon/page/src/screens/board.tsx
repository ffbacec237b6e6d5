// What the installer sees first: what may be done now, what comes when, what is wrong.
import type { JSX } from "preact";
import { OpenAlerts } from "./alerts";
import type { Bay, Board, Vehicle } from "../data/api";
import { HandedOverRow, isDue, useHandedOver } from "./handed_over";
import { laidNow, nextStep, no_estimate, Outlook, Shape, useNow } from "../parts/parts";
import { toLayWords } from "../parts/plan";
import { agoWords, type Words } from "../words/words";

export function BoardScreen({ board, words }: { board: Board; words: Words }): JSX.Element {
  const now = useNow();
  const here = board.vehicles.filter((vehicle) => !vehicle.released);
  const gone = board.vehicles.filter((vehicle) => vehicle.released);
  const due = (useHandedOver(board.applied) ?? []).filter((vehicle) => isDue(vehicle, now));
  return (
    <>
      <OpenAlerts alerts={board.alerts} words={words} />
      <section aria-labelledby="vehicles">
        <div class="head">
          <h2 id="vehicles">Vehicles</h2>
          <a class="button deed" href="#/arrive">
            Vehicle in
          </a>
        </div>
        {here.length === 0 && <p class="empty">No vehicle is in. When one comes, tap "Vehicle in", then lay the first piece.</p>}
        <div class="cards">
          {here.map((vehicle) => (
            <VehicleCard key={vehicle.id} vehicle={vehicle} words={words} />
          ))}
        </div>
      </section>
      {due.length > 0 && (
        <section aria-labelledby="due">
          <h2 id="due">Recheck due</h2>
          <ul class="rows">
            {due.map((vehicle) => (
              <HandedOverRow key={vehicle.id} vehicle={vehicle} words={words} />
            ))}
          </ul>
        </section>
      )}
      <section aria-labelledby="bays">
        <h2 id="bays">Bays</h2>
        <div class="cards">
          {board.bays.map((bay) => (
            <BayCard key={bay.name} bay={bay} words={words} />
          ))}
        </div>
      </section>
      {gone.length > 0 && (
        <section aria-labelledby="released">
          <h2 id="released">Released</h2>
          <ul class="rows">
            {gone.map((vehicle) => (
              <li key={vehicle.id}>
                <a href={`#/vehicle/${vehicle.id}`}>
                  <b>{vehicle.reference}</b> released {words.when(vehicle.released ?? "", now)}
                </a>
              </li>
            ))}
          </ul>
        </section>
      )}
      <nav class="actions" aria-label="More">
        <a class="button" href="#/handed-over">
          Handed over
        </a>
        <a class="button" href="#/alerts">
          Past alerts
        </a>
        <a class="button" href="#/rechecks">
          What the rechecks say
        </a>
        <a class="button" href="#/settings">
          Settings
        </a>
      </nav>
    </>
  );
}

// The sentence about the whole vehicle.
export function Release({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element {
  const now = useNow();
  const { release_ready, release_expected, hand_over } = vehicle;
  const laid = laidNow(vehicle);
  const rest = vehicle.to_lay.length > 0;
  const nothing = laid.length === 0 && !release_expected.likely;
  const unknown = laid.length > 0 && !release_ready && laid.every((piece) => piece.state.zones.length === 0);
  return (
    <div class="release">
      {nothing ? (
        <p>Nothing laid yet.</p>
      ) : unknown ? (
        <p class="next">{no_estimate}</p>
      ) : release_ready ? (
        <p class="next ready">
          <Shape mark="ready" /> Release-ready since {words.when(release_ready, now)}
        </p>
      ) : (
        <>
          <p class="next">
            Release-ready {release_expected.likely ? words.coming(release_expected.likely, now) : "beyond the outlook"}
            {rest && (laid.length > 0 ? ", if the rest is laid now" : ", if all is laid now")}
          </p>
          <p class="why">
            {words.between(release_expected, now)}
            {vehicle.held_by && <span class="held">{words.heldBy(vehicle.held_by)}</span>}
          </p>
        </>
      )}
      {hand_over && (
        <p class="hand-over">
          Agreed: {words.when(hand_over, now)}
          {!nothing && !unknown && !release_ready && <strong>{chance(vehicle.hand_over_probability)}</strong>}
        </p>
      )}
    </div>
  );
}

function chance(probability: number): string {
  const percent = Math.round(probability * 100);
  const word = percent >= 90 ? "On time" : percent >= 50 ? "Tight" : "Most likely late";
  return `${word}: ${percent} % chance to be ready by then`;
}

function VehicleCard({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element {
  const now = useNow();
  return (
    <article class="card vehicle">
      <div class="head">
        <h3>
          <a href={`#/vehicle/${vehicle.id}`}>{vehicle.reference}</a>
          <small>{vehicle.bay}</small>
        </h3>
        <a class="button primary deed" href={`#/vehicle/${vehicle.id}/lay`} aria-label={`Lay a piece on ${vehicle.reference}`}>
          Lay
        </a>
      </div>
      {vehicle.id < 0 ? <p class="old">Waits for the connection: not sent yet.</p> : <Release vehicle={vehicle} words={words} />}
      {vehicle.to_lay.length > 0 && (
        <p class="small">{toLayWords(vehicle, words, now)}</p>
      )}
      <ul class="pieces">
        {laidNow(vehicle).map((piece) => (
          <li key={piece.id}>
            <a href={`#/vehicle/${vehicle.id}?piece=${piece.id}`}>
              <Shape mark={nextStep(piece)?.mark ?? "done"} />
              <span class="what">
                <b>{words.piece(piece)}</b>
                <Outlook piece={piece} words={words} />
              </span>
            </a>
          </li>
        ))}
      </ul>
    </article>
  );
}

function paceWord(pace: number): string {
  return pace <= 0 ? "does not dry" : pace < 0.4 ? "very slow" : pace < 0.8 ? "slow" : pace <= 1.2 ? "as usual" : "fast";
}

function BayCard({ bay, words }: { bay: Bay; words: Words }): JSX.Element {
  const now = useNow();
  const age = bay.as_of ? now.getTime() - Date.parse(bay.as_of) : null;
  return (
    <article class="card bay">
      <h3>
        <a href={`#/bay/${encodeURIComponent(bay.name)}`}>{bay.name}</a>
        {bay.gone && <small> no longer in the settings</small>}
      </h3>
      {age === null ? (
        <p>No sensor has told anything yet.</p>
      ) : (
        <>
          {age > 15 * 60_000 && <p class="old">Last reading {agoWords(age)}</p>}
          <dl class="figures">
            <Figure name="Air" value={bay.air_c === null ? "?" : words.temperature(bay.air_c)} />
            <Figure name="Humidity" value={bay.rh_pct === null ? "?" : `${bay.rh_pct.toFixed(0)} %`} />
            <Figure name="Dew point" value={bay.dew_point_c === null ? "?" : words.temperature(bay.dew_point_c)} />
            <Figure name="Pace" value={bay.pace === null ? "?" : bay.pace.toFixed(2)} note={bay.pace === null ? "" : paceWord(bay.pace)} />
          </dl>
        </>
      )}
    </article>
  );
}

function Figure({ name, value, note }: { name: string; value: string; note?: string }): JSX.Element {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        {value} {note && <small>{note}</small>}
      </dd>
    </div>
  );
}

// What the installer sees first: what may be done now, what comes when, what is wrong.
import type { JSX } from "preact";
import { OpenAlerts } from "./alerts";
import type { Bay, Board, Vehicle } from "../data/api";
import { HandedOverRow, isDue, useHandedOver } from "./handed_over";
import { Looks } from "../parts/look";
import { likelyWords, Outlook } from "../parts/outlook";
import { Shape, useNow } from "../parts/parts";
import { toLayWords } from "../parts/plan";
import { PlateLook } from "../parts/plate_look";
import { isBeingEstimated, isUnmeasured, laidNow, markOf } from "../parts/steps";
import { tell } from "../data/store";
import type { Words } from "../words/words";

export function BoardScreen({ board, words }: { board: Board; words: Words }): JSX.Element {
  const now = useNow();
  const here = board.vehicles.filter((vehicle) => !vehicle.released);
  const gone = board.vehicles.filter((vehicle) => vehicle.released);
  const due = (useHandedOver(board.applied) ?? []).filter((vehicle) => isDue(vehicle, now));
  return (
    <>
      <OpenAlerts board={board} words={words} />
      <section aria-labelledby="vehicles">
        <div class="head">
          <h2 id="vehicles">{words.say("board.vehicles")}</h2>
          <a class="button deed" href="#/arrive">
            {words.say("arrive.vehicle-in")}
          </a>
        </div>
        {here.length === 0 && <p class="empty">{words.say("board.no-vehicle")}</p>}
        <div class="cards">
          {here.map((vehicle) => (
            <VehicleCard key={vehicle.id} vehicle={vehicle} words={words} />
          ))}
        </div>
      </section>
      {due.length > 0 && (
        <section aria-labelledby="due">
          <h2 id="due">{words.say("board.recheck-due")}</h2>
          <ul class="rows">
            {due.map((vehicle) => (
              <HandedOverRow key={vehicle.id} vehicle={vehicle} words={words} />
            ))}
          </ul>
        </section>
      )}
      <section aria-labelledby="bays">
        <h2 id="bays">{words.say("board.bays")}</h2>
        <div class="cards">
          {board.bays.map((bay) => (
            <BayCard key={bay.name} bay={bay} words={words} />
          ))}
        </div>
      </section>
      {gone.length > 0 && (
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
      )}
      <nav class="actions" aria-label={words.say("board.more")}>
        <a class="button" href="#/handed-over">
          {words.say("rechecks.handed-over")}
        </a>
        <a class="button" href="#/alerts">
          {words.say("alerts-page.past")}
        </a>
        <a class="button" href="#/rechecks">
          {words.say("rechecks.say")}
        </a>
        <a class="button" href="#/settings">
          {words.say("settings.settings")}
        </a>
      </nav>
    </>
  );
}

// The sentence about the whole vehicle.
export function Release({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element {
  const now = useNow();
  const { release_look, release_ready, release_announces, release_expected, release_probability, hand_over } = vehicle;
  const laid = laidNow(vehicle);
  const if_laid = vehicle.to_lay.length === 0 ? "none" : laid.length > 0 ? "rest" : "all";
  const nothing = laid.length === 0 && !release_announces && !release_expected.likely;
  const unknown = !release_ready && laid.some(isBeingEstimated);
  return (
    <div class="release">
      {nothing ? (
        <p>{words.say("board.nothing-laid")}</p>
      ) : unknown ? (
        <p class="next">{words.say("page.no-estimate")}</p>
      ) : release_ready ? (
        <p class="next ready">
          <Shape mark="ready" /> {words.say("board.release-ready-since", { when: words.when(release_ready, now) })}
        </p>
      ) : (
        <>
          {release_look && (
            <p class="next look">
              <Shape mark="look" /> {words.say("vehicle.worth-a-look", { step: words.step("may-leave") })}{" "}
              <small>{words.say("vehicle.estimate", { share: words.chance(release_probability) })}</small>
            </p>
          )}
          <p class="next">
            {release_announces
              ? words.say("board.release-coming", { coming: words.coming(release_announces, now), if_laid })
              : hasNoForecast(vehicle)
                ? words.say("vehicle.step-no-forecast", { step: words.step("may-leave") })
                : words.say("board.release-beyond", { if_laid })}
          </p>
          <p class="why">
            {likelyWords(release_probability, release_expected, now, words)}
            <span class="held">{words.sentence(vehicle.held_by)}</span>
          </p>
        </>
      )}
      {hand_over && (
        <p class="hand-over">
          {words.say("board.agreed", { when: words.when(hand_over, now) })}
          {!nothing && !unknown && !release_ready && <strong>{chanceWords(vehicle, hand_over, words)}</strong>}
        </p>
      )}
      {!nothing && !unknown && <FullStrength vehicle={vehicle} words={words} />}
    </div>
  );
}

// Nobody measures its air.
const hasNoForecast = (vehicle: Vehicle): boolean =>
  (vehicle.hand_over !== null && vehicle.hand_over_probability === null) || laidNow(vehicle).some((piece) => isUnmeasured(piece.milestones));

// On time: it is foreseen to be called ready by then.
function chanceWords({ release_announces, hand_over_probability }: Vehicle, agreed: string, words: Words): string {
  if (hand_over_probability === null) {
    return words.say("board.no-forecast");
  }
  const announced = release_announces !== null && Date.parse(release_announces) <= Date.parse(agreed);
  const how = announced ? "on-time" : hand_over_probability >= 0.5 ? "tight" : "late";
  return words.say(`board.chance-${how}`, { share: words.chance(hand_over_probability) });
}

// Advice for the customer, and no gate.
function FullStrength({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element | null {
  const { full_strength } = vehicle;
  const ahead = full_strength !== null && Date.parse(full_strength) > useNow().getTime();
  return ahead ? <p class="small">{words.say("board.full-strength", { day: words.dayOf(full_strength) })}</p> : null;
}

function VehicleCard({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element {
  const now = useNow();
  return (
    <article class="card vehicle">
      <div class="head">
        <h3>
          <a href={`#/vehicle/${vehicle.id}`}>{vehicle.reference}</a>
          <small>{words.bay(vehicle.bay)}</small>
        </h3>
        <a class="button primary deed" href={`#/vehicle/${vehicle.id}/lay`} aria-label={words.say("board.lay-on", { reference: vehicle.reference })}>
          {words.say("board.lay")}
        </a>
      </div>
      {vehicle.id < 0 ? <p class="old">{words.say("board.waits")}</p> : <Release vehicle={vehicle} words={words} />}
      {vehicle.to_lay.length > 0 && (
        <p class="small">{toLayWords(vehicle, words, now)}</p>
      )}
      <ul class="pieces">
        {laidNow(vehicle).map((piece) => (
          <li key={piece.id}>
            <a href={`#/vehicle/${vehicle.id}?piece=${piece.id}`}>
              <Shape mark={markOf(piece)} />
              <span class="what">
                <b>{words.piece(piece)}</b>
                <Outlook piece={piece} words={words} />
              </span>
            </a>
            <Looks piece={piece} words={words} tell={tell} />
          </li>
        ))}
      </ul>
    </article>
  );
}

function paceWord(pace: number, words: Words): string {
  const how = pace <= 0 ? "none" : pace < 0.4 ? "very-slow" : pace < 0.8 ? "slow" : pace <= 1.2 ? "usual" : "fast";
  return words.say(`board.pace-${how}`);
}

function BayCard({ bay, words }: { bay: Bay; words: Words }): JSX.Element {
  const now = useNow();
  const age = bay.as_of ? now.getTime() - Date.parse(bay.as_of) : null;
  return (
    <article class="card bay">
      <h3>
        <a href={`#/bay/${encodeURIComponent(bay.name)}`}>{words.bay(bay.name)}</a>
        {bay.gone && <small> {words.say("board.bay-gone")}</small>}
      </h3>
      {bay.to_look.map(({ plate, zone, what }) => (
        <PlateLook key={`${plate} ${zone}`} plate={plate} zone={zone} question={words.sentence(what)} words={words} />
      ))}
      {age === null ? (
        <p>{words.say("board.no-sensor")}</p>
      ) : (
        <>
          {age > 15 * 60_000 && <p class="old">{words.say("board.last-reading", { ago: words.ago(age) })}</p>}
          <dl class="figures">
            <Figure name={words.say("bay.air")} value={bay.air_c === null ? "?" : words.temperature(bay.air_c)} />
            <Figure name={words.say("bay.humidity")} value={bay.rh_pct === null ? "?" : words.percent(bay.rh_pct)} />
            <Figure name={words.say("bay.dew-point")} value={bay.dew_point_c === null ? "?" : words.temperature(bay.dew_point_c)} />
            <Figure
              name={words.say("bay.pace")}
              value={bay.pace === null ? "?" : words.fixed(bay.pace, 2)}
              note={bay.pace === null ? "" : paceWord(bay.pace, words)}
            />
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

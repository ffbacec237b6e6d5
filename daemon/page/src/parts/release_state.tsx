// What is foreseen of a vehicle as a whole.
import type { JSX } from "preact";
import type { Vehicle } from "../data/api";
import { likelyWords } from "./outlook";
import { Sign, useNow } from "./parts";
import { isBeingEstimated, isUnmeasured, laidNow } from "./steps";
import type { Words } from "../words/words";

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
          <Sign of="ready" /> {words.say("board.release-ready-since", { when: words.when(release_ready, now) })}
        </p>
      ) : (
        <>
          {release_look && (
            <p class="next look">
              <Sign of="look" /> {words.say("vehicle.worth-a-look", { step: words.step("may-leave") })}{" "}
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

// Minutes after the agreed time, as far as is foreseen; null: in time, or nobody knows.
export function lateBy({ hand_over, release_announces, release_ready, hand_over_probability }: Vehicle): number | "far" | null {
  if (hand_over === null || release_ready !== null) {
    return null;
  }
  if (release_announces === null) {
    return hand_over_probability !== null && hand_over_probability < 0.5 ? "far" : null;
  }
  const ms = Date.parse(release_announces) - Date.parse(hand_over);
  return ms > 0 ? ms : null;
}

export const agreedWords = ({ hand_over }: Vehicle, now: Date, words: Words): string => (hand_over ? words.when(hand_over, now) : "");

// "in time", "70 min late", "may leave Sun 06:40"
export function releaseWords(vehicle: Vehicle, now: Date, words: Words): string {
  const { hand_over, release_announces, release_ready } = vehicle;
  const laid = laidNow(vehicle);
  const late = lateBy(vehicle);
  if (vehicle.id < 0) {
    return words.say("board.waits");
  }
  if (release_ready) {
    return words.say("board.may-leave");
  }
  if (laid.length === 0 && !release_announces) {
    return words.say("board.nothing-laid");
  }
  if (late !== null) {
    return late === "far" ? words.say("board.late") : words.say("board.late-by", { span: words.roughly(late) });
  }
  if (release_announces) {
    return hand_over ? words.say("board.in-time") : words.say("board.may-leave-at", { when: words.when(release_announces, now) });
  }
  return words.say(laid.some(isBeingEstimated) || hasNoForecast(vehicle) ? "board.no-estimate-yet" : "board.no-time-yet");
}

// The same beside its name.
export function ReleaseShort({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element {
  const now = useNow();
  return (
    <>
      {agreedWords(vehicle, now, words)} <span class={lateBy(vehicle) === null ? "how" : "how late"}>{releaseWords(vehicle, now, words)}</span>
    </>
  );
}
export const releaseSign = (vehicle: Vehicle): "late" | "flag" | "ready" => (lateBy(vehicle) !== null ? "late" : vehicle.release_ready ? "ready" : "flag");

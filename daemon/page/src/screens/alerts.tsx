// What is or was wrong, and what to do about it.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type Alert, type Board, getAlerts } from "../data/api";
import { useAnswer } from "../parts/asked";
import { Back, Choice, Sign, Title, useNow } from "../parts/parts";
import { shopNow, tell } from "../data/store";
import type { Words } from "../words/words";

// Where it is to be seen and answered: "12:wrap-ready" and "12:look" are of a piece, "12" of a vehicle.
function placeOf({ rule, subject }: Alert, { vehicles }: Board): string | null {
  if (rule !== "worth-a-look" && rule !== "piece-ready" && rule !== "release-ready") {
    return null;
  }
  const id = Number.parseInt(subject);
  const of_piece = subject.includes(":");
  const vehicle = vehicles.find((one) => (of_piece ? one.pieces.some((piece) => piece.id === id) : one.id === id));
  return vehicle ? `#/vehicle/${vehicle.id}${of_piece ? `?piece=${id}` : ""}` : null;
}

function AlertCard({ alert, board, words }: { alert: Alert; board: Board; words: Words }): JSX.Element {
  const now = useNow();
  const place = placeOf(alert, board);
  return (
    <article class={`alert ${alert.level}`}>
      <p class="level">
        {words.say(`alerts-page.level-${alert.level}`)} <small>{words.say("alerts-page.since", { when: words.when(alert.raised, now) })}</small>
      </p>
      <p>{words.sentence(alert.what)}</p>
      <p class="advice">{words.sentence(alert.advice)}</p>
      {alert.acknowledged && <p class="small">{words.title("alerts-page.seen-at", { when: words.when(alert.acknowledged, now) })}</p>}
      <p class="actions">
        {place && (
          <a class="button" href={place}>
            {words.say("alerts-page.look-there")}
          </a>
        )}
        {!alert.acknowledged && (
          <button type="button" onClick={() => tell({ what: "acknowledged", alert: alert.id }, words.say("alerts-page.alert-seen"))}>
            {words.say("alerts-page.seen")}
          </button>
        )}
      </p>
    </article>
  );
}

const weight = { news: 0, warning: 1, urgent: 2 };
// What has not been seen comes first, then what weighs most, then the newest.
function before(a: Alert, b: Alert): number {
  return (
    Number(a.acknowledged !== null) - Number(b.acknowledged !== null) ||
    weight[b.level] - weight[a.level] ||
    Date.parse(b.raised) - Date.parse(a.raised)
  );
}

// What the board's own lists say already.
const said_by_lists: Alert["rule"][] = ["worth-a-look", "piece-ready", "release-ready", "sensor-silent"];

export const alertsOfLine = ({ alerts }: Board): Alert[] => alerts.filter(({ rule, level }) => level === "urgent" || !said_by_lists.includes(rule)).sort(before);

// One line, whatever is wrong: the most urgent, and how many more; a tap shows them all.
export function AlertLine({ board, words }: { board: Board; words: Words }): JSX.Element | null {
  const line = alertsOfLine(board);
  const [first] = line;
  if (!first) {
    return null;
  }
  const more = line.length - 1;
  return (
    <section aria-label={words.say("alerts-page.alerts")} class="alerts">
      <details class={`alert-line ${first.acknowledged ? "seen" : first.level}`}>
        <summary>
          <Sign of={first.acknowledged ? "done" : "late"} />
          <span class="text">{words.sentence(first.what)}</span>
          {more > 0 && <span class="more">{words.say("alerts-page.more", { count: more })}</span>}
        </summary>
        {line.map((alert) => (
          <AlertCard key={alert.id} alert={alert} board={board} words={words} />
        ))}
      </details>
    </section>
  );
}

const spans = ["1", "7", "30"] as const; // days

export function AlertsScreen({ board, words }: { board: Board; words: Words }): JSX.Element {
  const now = useNow();
  const [days, setDays] = useState<(typeof spans)[number]>("7");
  const { answer, failed } = useAnswer(() => {
    const to = shopNow();
    const from = new Date(to.getTime() - Number(days) * 86_400_000);
    return getAlerts(from.toISOString(), to.toISOString());
  }, [days]);
  const span = (alert: Alert): string =>
    words.say("alerts-page.span", {
      raised: words.when(alert.raised, now),
      end: alert.cleared ? words.say("alerts-page.over-since", { when: words.when(alert.cleared, now) }) : words.say("alerts-page.still-so"),
      seen: alert.acknowledged ? words.say("alerts-page.seen-at", { when: words.when(alert.acknowledged, now) }) : words.say("alerts-page.not-seen"),
    });
  return (
    <>
      <Back to="#/">{words.say("page.board")}</Back>
      <Title words={words}>{words.say("alerts-page.alerts")}</Title>
      {board.alerts.length > 0 && (
        <section class="alerts" aria-labelledby="open">
          <h3 id="open">{words.say("alerts-page.open")}</h3>
          {[...board.alerts].sort(before).map((alert) => (
            <AlertCard key={alert.id} alert={alert} board={board} words={words} />
          ))}
        </section>
      )}
      <h3>{words.say("alerts-page.past")}</h3>
      <Choice
        label={words.say("page.span")}
        options={spans.map((value) => ({ value, text: words.say("units.days", { n: Number(value) }) }))}
        value={days}
        onChoose={setDays}
      />
      {failed && <p class="old">{words.say("alerts-page.failed")}</p>}
      {answer?.alerts.length === 0 && <p class="empty">{words.say("alerts-page.none")}</p>}
      <div class="alerts">
        {answer?.alerts.map((alert) => (
          <article key={alert.id + alert.raised} class={`alert ${alert.cleared ? "" : alert.level}`}>
            <p class="level">
              {words.say(`alerts-page.level-${alert.level}`)} <small>{span(alert)}</small>
            </p>
            <p>{words.sentence(alert.what)}</p>
          </article>
        ))}
      </div>
    </>
  );
}

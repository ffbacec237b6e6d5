// What is or was wrong, and what to do about it.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { type Alert, getAlerts } from "../data/api";
import { Back, Choice, useNow } from "../parts/parts";
import { shopNow, tell } from "../data/store";
import type { Words } from "../words/words";

const levels = { news: "News", warning: "Warning", urgent: "Urgent" };

export function AlertCard({ alert, words }: { alert: Alert; words: Words }): JSX.Element {
  const now = useNow();
  return (
    <article class={`alert ${alert.level}`}>
      <p class="level">
        {levels[alert.level]} <small>since {words.when(alert.raised, now)}</small>
      </p>
      <p>{words.sentence(alert.text)}</p>
      <p class="advice">{words.sentence(alert.advice)}</p>
      {alert.acknowledged ? (
        <p class="small">Seen {words.when(alert.acknowledged, now)}</p>
      ) : (
        <button type="button" onClick={() => tell({ what: "acknowledged", alert: alert.id }, "Alert seen")}>
          Seen
        </button>
      )}
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

// The vehicles are what the board is opened for: one alert stands above them, and whatever is urgent and has not been seen.
export function OpenAlerts({ alerts, words }: { alerts: Alert[]; words: Words }): JSX.Element | null {
  const ordered = [...alerts].sort(before);
  const shown = Math.max(1, ordered.filter((alert) => alert.level === "urgent" && !alert.acknowledged).length);
  const rest = ordered.slice(shown);
  const cards = (some: Alert[]): JSX.Element[] => some.map((alert) => <AlertCard key={alert.id} alert={alert} words={words} />);
  if (ordered.length === 0) {
    return null;
  }
  return (
    <section aria-label="Alerts" class="alerts">
      {cards(ordered.slice(0, shown))}
      {rest.length > 0 && (
        <details>
          <summary>{rest.length === 1 ? "1 more alert" : `${rest.length} more alerts`}</summary>
          {cards(rest)}
        </details>
      )}
    </section>
  );
}

const spans = [
  { value: "1", text: "1 day" },
  { value: "7", text: "7 days" },
  { value: "30", text: "30 days" },
] as const;

export function PastAlertsScreen({ words }: { words: Words }): JSX.Element {
  const now = useNow();
  const [days, setDays] = useState<"1" | "7" | "30">("7");
  const [alerts, setAlerts] = useState<Alert[] | null>(null);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    let current = true;
    const to = shopNow();
    const from = new Date(to.getTime() - Number(days) * 86_400_000);
    setFailed(false);
    getAlerts(from.toISOString(), to.toISOString())
      .then((past) => current && setAlerts(past.alerts))
      .catch(() => current && setFailed(true));
    return () => {
      current = false;
    };
  }, [days]);
  const end = (alert: Alert): string =>
    [
      alert.cleared ? `over since ${words.when(alert.cleared, now)}` : "still so",
      alert.acknowledged ? `seen ${words.when(alert.acknowledged, now)}` : "not seen",
    ].join(", ");
  return (
    <>
      <Back to="#/">Board</Back>
      <h2>Past alerts</h2>
      <Choice label="Span" options={[...spans]} value={days} onChoose={setDays} />
      {failed && <p class="old">The alerts could not be asked for. Try again when the connection is back.</p>}
      {alerts?.length === 0 && <p class="empty">No alert in this span.</p>}
      <div class="alerts">
        {alerts?.map((alert) => (
          <article key={alert.id + alert.raised} class={`alert ${alert.cleared ? "" : alert.level}`}>
            <p class="level">
              {levels[alert.level]} <small>{words.when(alert.raised, now)}; {end(alert)}</small>
            </p>
            <p>{words.sentence(alert.text)}</p>
          </article>
        ))}
      </div>
    </>
  );
}

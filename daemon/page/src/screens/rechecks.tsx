// Which pieces lift: what the rechecks of all vehicles found, against what was known when they left.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { getRechecks, type RecheckGroup, type RecheckReport, type ZoneKind } from "../data/api";
import { Back, Title } from "../parts/parts";
import { type PlainKey, sentence, type Words } from "../words/words";

const headings: Record<RecheckGroup["by"], PlainKey> = {
  all: "rechecks.by-all",
  trim: "rechecks.by-trim",
  tension: "rechecks.by-tension",
  release: "rechecks.by-release",
  zone: "rechecks.by-zone",
  panel: "rechecks.by-panel",
};
// What the daemon calls the groups; those of shares stand as they are.
const groups: Record<RecheckGroup["of"], PlainKey> = {
  all: "rechecks.of-all",
  "entered-later": "rechecks.of-entered-later",
  "not-trimmed": "rechecks.of-not-trimmed",
  noted: "rechecks.of-noted",
  "not-noted": "rechecks.of-not-noted",
  early: "rechecks.of-early",
  "release-ready": "rechecks.of-release-ready",
};
const kindWords = (by: RecheckGroup["by"], words: Words): string => {
  const key = headings[by];
  return key ? words.say(key) : by;
};

export function RechecksScreen({ words }: { words: Words }): JSX.Element {
  const [report, setReport] = useState<RecheckReport | null>(null);
  const [failed, setFailed] = useState(false);
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    let current = true;
    getRechecks()
      .then((answer) => {
        if (current) {
          setReport(answer);
          setFailed(false);
          if (answer.pending > 0) {
            setTurn(turn + 1); // it goes on where it stopped
          }
        }
      })
      .catch(() => current && setFailed(true));
    return () => {
      current = false;
    };
  }, [turn]);
  return (
    <>
      <Back to="#/">{words.say("page.board")}</Back>
      <Title words={words}>{words.say("rechecks.say")}</Title>
      {failed && <p class="old">{words.say("page.no-answer")}</p>}
      {!report && !failed && <p class="first">{words.say("rechecks.counting")}</p>}
      {report && <Report report={report} words={words} />}
    </>
  );
}

function Report({ report, words }: { report: RecheckReport; words: Words }): JSX.Element {
  if (report.vehicles === 0) {
    return <p class="empty">{words.say("rechecks.none")}</p>;
  }
  const kinds = [...new Set(report.groups.map((group) => group.by))];
  return (
    <>
      <p>
        {words.say("rechecks.vehicles", { count: report.vehicles })}
        {report.pending > 0 && ` ${words.say("rechecks.pending", { count: report.pending })}`}
      </p>
      {kinds.map((by) => (
        <section key={by} aria-label={kindWords(by, words)}>
          <h3>{kindWords(by, words)}</h3>
          <table class="shares">
            <thead>
              <tr>
                <th scope="col">{words.say("rechecks.pieces")}</th>
                <th scope="col">{words.say("rechecks.lifted")}</th>
                <th scope="col">{words.say("rechecks.share")}</th>
              </tr>
            </thead>
            <tbody>
              {report.groups
                .filter((group) => group.by === by)
                .map((group) => (
                  <tr key={group.of}>
                    <th scope="row">{nameOf(group, words)}</th>
                    <td>
                      {words.say("rechecks.of", { lifted: words.number(group.lifted, 0), pieces: words.number(group.pieces, 0) })}
                    </td>
                    <td>
                      <Share group={group} words={words} />
                    </td>
                  </tr>
                ))}
            </tbody>
          </table>
        </section>
      ))}
      <p class="small">
        {words.say("rechecks.legend", { share: words.share(0.95), few: words.number(report.few_below, 0) })}
      </p>
    </>
  );
}

function nameOf(group: RecheckGroup, words: Words): string {
  if (group.by === "panel") {
    return words.panel(group.of);
  }
  if (group.by === "zone") {
    return sentence(words.zone(group.of as ZoneKind));
  }
  const key = groups[group.of];
  return key ? words.say(key) : group.of;
}

// The interval as a bar over 0 to 100 %, and in words: black and white tell it as well.
function Share({ group, words }: { group: RecheckGroup; words: Words }): JSX.Element {
  const counted = group.lifted / group.pieces;
  const values = { counted: words.share(counted), low: words.share(group.low), high: words.share(group.high) };
  return (
    <>
      <svg viewBox="0 0 100 8" preserveAspectRatio="none" class={group.few ? "share few" : "share"} aria-hidden="true">
        <line x1="0" y1="7" x2="100" y2="7" />
        <rect x={group.low * 100} y="2" width={Math.max(0.5, (group.high - group.low) * 100)} height="4" />
        <line class="counted" x1={counted * 100} y1="0" x2={counted * 100} y2="8" />
      </svg>
      <small>{words.say(group.few ? "rechecks.interval-few" : "rechecks.interval", values)}</small>
    </>
  );
}

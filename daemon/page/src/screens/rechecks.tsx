// Which pieces lift: what the rechecks of all vehicles found, against what was known when they left.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { getRechecks, type RecheckGroup, type RecheckReport, type ZoneKind } from "../data/api";
import { Back } from "../parts/parts";
import { type Words, zoneWords } from "../words/words";

const headings: Record<RecheckGroup["by"], string> = {
  all: "All pieces",
  trim: "How likely trim-ready it was when it was trimmed",
  tension: "Tension noted when it was laid",
  release: "How the vehicle left",
  zone: "Where it lifted, of the pieces that have this zone",
  panel: "Panel",
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
      <Back to="#/">Board</Back>
      <h2>What the rechecks say</h2>
      {failed && <p class="old">The daemon does not answer now.</p>}
      {!report && !failed && <p class="first">Counting ...</p>}
      {report && <Report report={report} words={words} />}
    </>
  );
}

function Report({ report, words }: { report: RecheckReport; words: Words }): JSX.Element {
  if (report.vehicles === 0) {
    return <p class="empty">No vehicle was looked at again yet. Tap what you find at a recheck: it is counted here.</p>;
  }
  const kinds = [...new Set(report.groups.map((group) => group.by))];
  return (
    <>
      <p>
        {report.vehicles === 1 ? "One vehicle was" : `${report.vehicles} vehicles were`} looked at again.
        {report.pending > 0 && ` ${report.pending} of them are still being worked out.`}
      </p>
      {kinds.map((by) => (
        <section key={by} aria-label={headings[by]}>
          <h3>{headings[by]}</h3>
          <table class="shares">
            <thead>
              <tr>
                <th scope="col">Pieces</th>
                <th scope="col">Lifted</th>
                <th scope="col">Share that lifts, 0 to 100&nbsp;%</th>
              </tr>
            </thead>
            <tbody>
              {report.groups
                .filter((group) => group.by === by)
                .map((group) => (
                  <tr key={group.of}>
                    <th scope="row">{nameOf(group, words)}</th>
                    <td>
                      {group.lifted} of {group.pieces}
                    </td>
                    <td>
                      <Share group={group} />
                    </td>
                  </tr>
                ))}
            </tbody>
          </table>
        </section>
      ))}
      <p class="small">
        The bar is the 95 % interval (Wilson's score), the tick what was counted. Fewer than {report.few_below} pieces are too few to say
        anything. A piece that lifted without a word where is in no row of the zones. Counts of one shop tell where to look, not why: a panel that is often trimmed early lifts for one reason or the other.
      </p>
    </>
  );
}

function nameOf(group: RecheckGroup, words: Words): string {
  if (group.by === "panel") {
    return words.panel(group.of);
  }
  if (group.by === "zone") {
    return zoneWords[group.of as ZoneKind];
  }
  return group.of === "all" ? "All" : group.of.charAt(0).toUpperCase() + group.of.slice(1);
}

// The interval as a bar over 0 to 100 %, and in words: black and white tell it as well.
function Share({ group }: { group: RecheckGroup }): JSX.Element {
  const percent = (share: number): string => `${Math.round(share * 100)}\u00a0%`;
  const counted = group.lifted / group.pieces;
  const said = `${percent(counted)}, between ${percent(group.low)} and ${percent(group.high)}`;
  return (
    <>
      <svg viewBox="0 0 100 8" preserveAspectRatio="none" class={group.few ? "share few" : "share"} aria-hidden="true">
        <line x1="0" y1="7" x2="100" y2="7" />
        <rect x={group.low * 100} y="2" width={Math.max(0.5, (group.high - group.low) * 100)} height="4" />
        <line class="counted" x1={counted * 100} y1="0" x2={counted * 100} y2="8" />
      </svg>
      <small>{group.few ? `${said}: too few to tell` : said}</small>
    </>
  );
}

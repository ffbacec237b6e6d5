// The page: which screen is shown, and the bars about the connection and the last tap.
import { type JSX, render } from "preact";
import { useEffect, useLayoutEffect, useMemo, useState } from "preact/hooks";
import { AlertsScreen } from "./screens/alerts";
import { baysOf } from "./data/api";
import { ArriveScreen } from "./screens/arrive";
import { BayScreen } from "./screens/bay";
import { BoardScreen } from "./screens/board";
import { CouponScreen } from "./screens/coupon";
import { HandedOverScreen, PastScreen } from "./screens/handed_over";
import { LayScreen } from "./screens/lay";
import { LearnedScreen } from "./screens/learned";
import type { Link } from "./data/live";
import "./page.css";
import { Back, comesTo, useNow } from "./parts/parts";
import { numberOf, type Refused, type Taken, tapOf, type Waiting } from "./data/queue";
import { PlateScreen } from "./screens/plate";
import { RechecksScreen } from "./screens/rechecks";
import { ReleaseScreen } from "./screens/release";
import { SensorCheckScreen } from "./screens/sensor_check";
import { SensorFindScreen } from "./screens/sensor_find";
import { SensorsScreen } from "./screens/sensors";
import { SettingsScreen } from "./screens/settings";
import { type Known, knownNow, putAway, putRefusedAway, start, tell, useKnown } from "./data/store";
import { fetchMessages } from "./words/tables";
import { type PlainKey, siteOf, Words } from "./words/words";
import { VehicleScreen } from "./screens/vehicle";
import { WallScreen } from "./screens/wall";
import { WaitingVehicle, withWaiting } from "./parts/waiting_vehicle";

interface Place {
  path: string[];
  query: URLSearchParams;
}

function placeOf(hash: string): Place {
  const [path = "", query = ""] = hash.replace(/^#\/?/, "").split("?");
  return { path: path.split("/").filter(Boolean).map(decoded), query: new URLSearchParams(query) };
}
// A link that was cut on its way may end within a character: it then stands as it is.
function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

function usePlace(): Place {
  const [hash, setHash] = useState(location.hash);
  // Before the first paint: an effect runs after it, and would miss who moves on at once.
  useLayoutEffect(() => {
    const moved = (): void => {
      comesTo();
      setHash(location.hash);
      scrollTo(0, 0);
    };
    addEventListener("hashchange", moved);
    return () => removeEventListener("hashchange", moved);
  }, []);
  return useMemo(() => placeOf(hash), [hash]);
}

const numberIn = (text: string | null | undefined): number | null => (text && /^-?\d+$/.test(text) ? Number(text) : null);

const first_words: Record<Link, PlainKey | null> = { asking: "page.asking", live: "page.asking", lost: "page.no-answer", unpaired: null };

function Screen({ known, place, words }: { known: Known; place: Place; words: Words }): JSX.Element {
  const { catalogue } = known;
  const board = useMemo(() => known.board && withWaiting(known.board, known.waiting), [known.board, known.waiting]);
  if (!board || !catalogue) {
    const said = first_words[known.link];
    return <p class="first">{said && words.say(said)}</p>;
  }
  if (!known.mayWrite && tells(place)) {
    return <Notice text="page.look-only" words={words} />;
  }
  const [what, which, deed] = place.path;
  if (what === "arrive") {
    return <ArriveScreen board={board} words={words} />;
  }
  if (what === "alerts") {
    return <AlertsScreen board={board} words={words} />;
  }
  if (what === "rechecks") {
    return <RechecksScreen words={words} />;
  }
  if (what === "settings") {
    return <SettingsScreen shop={catalogue.site} phone={known.phone} words={words} />;
  }
  if (what === "handed-over") {
    return <HandedOverScreen applied={board.applied} words={words} />;
  }
  if (what === "past") {
    return <PastScreen key={which} id={numberIn(which) ?? 0} applied={board.applied} words={words} />;
  }
  const bays = baysOf(board);
  if (what === "sensors") {
    if (which === "find") {
      return <SensorFindScreen bays={bays} words={words} />;
    }
    return which === "check" && deed ? <SensorCheckScreen key={deed} name={deed} words={words} /> : <SensorsScreen words={words} />;
  }
  if (what === "coupon") {
    return <CouponScreen catalogue={catalogue} bays={bays} words={words} />;
  }
  if (what === "learned") {
    return <LearnedScreen words={words} />;
  }
  if (what === "plate") {
    return <PlateScreen catalogue={catalogue} bays={bays} words={words} />;
  }
  if (what === "bay") {
    const bay = board.bays.find((one) => one.name === which);
    return bay ? <BayScreen key={bay.name} bay={bay} board={board} words={words} /> : <Notice text="page.gone" words={words} />;
  }
  // By its key a screen begins anew where another is meant: what was typed, and whose it is, stays with the one.
  if (what === "vehicle") {
    const number = numberOf(numberIn(which) ?? 0);
    const vehicle = board.vehicles.find((one) => one.id === number);
    if (!vehicle) {
      return <Notice text="page.gone" words={words} />;
    }
    if (deed === "lay") {
      return <LayScreen key={which} vehicle={vehicle} board={board} catalogue={catalogue} again={numberIn(place.query.get("again"))} words={words} />;
    }
    if (vehicle.id < 0) {
      return <WaitingVehicle vehicle={vehicle} words={words} />;
    }
    return deed === "release" ? (
      <ReleaseScreen key={which} vehicle={vehicle} words={words} />
    ) : (
      <VehicleScreen key={which} vehicle={vehicle} board={board} open={numberIn(place.query.get("piece"))} words={words} />
    );
  }
  return <BoardScreen board={board} words={words} />;
}

// Screens that are all for telling something.
const tells = (place: Place): boolean => {
  const [what, , deed] = place.path;
  return what === "arrive" || deed === "lay" || deed === "release" || (what === "sensors" && place.path.length > 1);
};

function Notice({ text, words }: { text: PlainKey; words: Words }): JSX.Element {
  return (
    <>
      <Back to="#/">{words.say("page.board")}</Back>
      <p class="empty">{words.say(text)}</p>
    </>
  );
}

function LinkBar({ known, words }: { known: Known; words: Words }): JSX.Element | null {
  useNow();
  if (known.link === "live" || known.link === "asking") {
    return null;
  }
  const text =
    known.link === "unpaired"
      ? words.say("page.unpaired")
      : known.board
        ? words.say("page.no-connection-since", { ago: words.ago(Date.now() - known.received) })
        : words.say("page.no-connection");
  return (
    <p class="bar-link" role="status">
      <span aria-hidden="true">⊘</span> {text}
    </p>
  );
}

// What was not taken stands until somebody has put it away: more taps, and another day, do not hide it.
function RefusedBar({ refused, words }: { refused: Refused; words: Words }): JSX.Element {
  const { key, said, why } = refused;
  const text = why.fact ? words.sentence(why.fact) : why.detail || words.say("page.belonging-not-taken");
  return (
    <div class="tap refused" role="status">
      <p>{words.say("page.not-taken", { said, why: text })}</p>
      <button type="button" onClick={() => putRefusedAway(key)}>
        {words.say("page.ok")}
      </button>
    </div>
  );
}

function TakenBar({ last, words }: { last: Taken; words: Words }): JSX.Element {
  const { seqs, waiting } = last;
  useEffect(() => {
    const timer = setTimeout(putAway, 12_000);
    return () => clearTimeout(timer);
  }, [last]);
  return (
    <div class="tap" role="status">
      <p>{waiting.said}</p>
      {!["superseded", "forgotten"].includes(waiting.deed.what) && (
        <button
          type="button"
          onClick={() => tell([...seqs].reverse().map((event) => ({ what: "superseded", event })), words.title("vehicle.event-superseded"))}
        >
          {words.say("page.undo")}
        </button>
      )}
      <button type="button" onClick={putAway}>
        {words.say("page.ok")}
      </button>
    </div>
  );
}

// Of each tap, however much of it waits.
const saidOnce = (waiting: Waiting[]): string[] => [...new Map(waiting.map((one) => [tapOf(one), one.said])).values()];

function TapBars({ known, words }: { known: Known; words: Words }): JSX.Element {
  const { waiting, refused, last } = known;
  const taps = saidOnce(waiting);
  const held = saidOnce(waiting.filter((one) => one.held));
  return (
    <div class="taps">
      {refused.map((one) => (
        <RefusedBar key={one.key} refused={one} words={words} />
      ))}
      {taps.length > 0 && (
        <div class="tap" role="status">
          <p>{words.say("page.taps-wait", { count: taps.length, said: taps.join("; ") })}</p>
        </div>
      )}
      {held.length > 0 && (
        <div class="tap" role="status">
          <p>{words.say("page.taps-held", { count: held.length, said: held.join("; ") })}</p>
        </div>
      )}
      {waiting.length === 0 && last && <TakenBar last={last} words={words} />}
    </div>
  );
}

function Page(): JSX.Element {
  const known = useKnown();
  const place = usePlace();
  const [fetched, setFetched] = useState(0);
  const words = useMemo(() => new Words(siteOf(known.catalogue, known.phone), known.catalogue), [known.catalogue, known.phone, fetched]);
  useEffect(() => {
    void fetchMessages(words.site.language).then((more) => more && setFetched((count) => count + 1));
  }, [words]);
  const [what] = place.path;
  useEffect(() => {
    document.documentElement.lang = words.site.language;
    if (what === undefined) {
      document.title = words.say("page.title", { shop: words.site.name || "dryclock" });
    }
  }, [words, what]);
  if (what === "wall" && known.board && known.catalogue && known.link !== "unpaired") {
    return <WallScreen board={known.board} received={known.received} link={known.link} words={words} />;
  }
  return (
    <div class={known.mayWrite ? undefined : "look-only"}>
      <LinkBar known={known} words={words} />
      <main>
        {what !== undefined && <h1 class="vh">{words.site.name}</h1>}
        <Screen known={known} place={place} words={words} />
      </main>
      <footer>
        <b>{words.site.name}</b>
        {known.link === "live" && <span class="live">{words.say(known.mayWrite ? "page.live" : "page.live-look-only")}</span>}
      </footer>
      <div class="bars">
        <div id="foot" />
        <TapBars known={known} words={words} />
      </div>
    </div>
  );
}

const root = document.getElementById("page");
if (root) {
  start();
  const { catalogue, phone } = knownNow();
  void fetchMessages(siteOf(catalogue, phone).language).then(() => {
    root.replaceChildren();
    render(<Page />, root);
  });
}

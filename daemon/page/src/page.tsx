// The page: which screen is shown, and the bars about the connection and the last tap.
import { type JSX, render } from "preact";
import { useEffect, useLayoutEffect, useMemo, useState } from "preact/hooks";
import { PastAlertsScreen } from "./screens/alerts";
import { baysOf } from "./data/api";
import { ArriveScreen } from "./screens/arrive";
import { BayScreen } from "./screens/bay";
import { BoardScreen } from "./screens/board";
import { CouponScreen } from "./screens/coupon";
import { HandedOverScreen, PastScreen } from "./screens/handed_over";
import { LayScreen } from "./screens/lay";
import type { Link } from "./data/live";
import "./page.css";
import { Back, useNow } from "./parts/parts";
import { numberOf } from "./data/queue";
import { RechecksScreen } from "./screens/rechecks";
import { ReleaseScreen } from "./screens/release";
import { SensorCheckScreen } from "./screens/sensor_check";
import { SensorFindScreen } from "./screens/sensor_find";
import { SensorsScreen } from "./screens/sensors";
import { SettingsScreen } from "./screens/settings";
import { type Known, putAway, start, tell, useKnown } from "./data/store";
import { agoWords, siteOf, Words } from "./words/words";
import { VehicleScreen } from "./screens/vehicle";
import { WaitingVehicle, withWaiting } from "./parts/waiting_vehicle";

interface Place {
  path: string[];
  query: URLSearchParams;
}

function placeOf(hash: string): Place {
  const [path = "", query = ""] = hash.replace(/^#\/?/, "").split("?");
  return { path: path.split("/").filter(Boolean).map(decodeURIComponent), query: new URLSearchParams(query) };
}

function usePlace(): Place {
  const [hash, setHash] = useState(location.hash);
  // Before the first paint: an effect runs after it, and would miss who moves on at once.
  useLayoutEffect(() => {
    const moved = (): void => {
      setHash(location.hash);
      scrollTo(0, 0);
    };
    addEventListener("hashchange", moved);
    return () => removeEventListener("hashchange", moved);
  }, []);
  return useMemo(() => placeOf(hash), [hash]);
}

const numberIn = (text: string | null | undefined): number | null => (text && /^-?\d+$/.test(text) ? Number(text) : null);

const look_only = "This device may only look. To enter something, take one that is paired for it.";
const asking = "Asking the daemon for the board ...";

function Screen({ known, place, words }: { known: Known; place: Place; words: Words }): JSX.Element {
  const { catalogue } = known;
  const board = useMemo(() => known.board && withWaiting(known.board, known.waiting), [known.board, known.waiting]);
  if (!board || !catalogue) {
    const said: Record<Link, string> = { asking, live: asking, lost: "The daemon does not answer.", unpaired: "" };
    return <p class="first">{said[known.link]}</p>;
  }
  if (!known.mayWrite && tells(place)) {
    return <LookOnly />;
  }
  const [what, which, deed] = place.path;
  if (what === "arrive") {
    return <ArriveScreen board={board} words={words} />;
  }
  if (what === "alerts") {
    return <PastAlertsScreen words={words} />;
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
    return <PastScreen id={numberIn(which) ?? 0} applied={board.applied} words={words} />;
  }
  const bays = baysOf(board);
  if (what === "sensors") {
    if (which === "find") {
      return <SensorFindScreen bays={bays} />;
    }
    return which === "check" && deed ? <SensorCheckScreen key={deed} name={deed} words={words} /> : <SensorsScreen words={words} />;
  }
  if (what === "coupon") {
    return <CouponScreen catalogue={catalogue} bays={bays} words={words} />;
  }
  if (what === "bay") {
    const bay = board.bays.find((one) => one.name === which);
    return bay ? <BayScreen key={bay.name} bay={bay} words={words} /> : <Gone />;
  }
  if (what === "vehicle") {
    const number = numberOf(numberIn(which) ?? 0);
    const vehicle = board.vehicles.find((one) => one.id === number);
    if (!vehicle) {
      return <Gone />;
    }
    if (deed === "lay") {
      return <LayScreen key={vehicle.id} vehicle={vehicle} catalogue={catalogue} again={numberIn(place.query.get("again"))} words={words} />;
    }
    if (vehicle.id < 0) {
      return <WaitingVehicle vehicle={vehicle} />;
    }
    return deed === "release" ? (
      <ReleaseScreen vehicle={vehicle} words={words} />
    ) : (
      <VehicleScreen vehicle={vehicle} bays={bays} applied={board.applied} open={numberIn(place.query.get("piece"))} words={words} />
    );
  }
  return <BoardScreen board={board} words={words} />;
}

// Screens that are all for telling something.
const tells = (place: Place): boolean => {
  const [what, , deed] = place.path;
  return what === "arrive" || deed === "lay" || deed === "release" || (what === "sensors" && place.path.length > 1);
};

function LookOnly(): JSX.Element {
  return (
    <>
      <Back to="#/">Board</Back>
      <p class="empty">{look_only}</p>
    </>
  );
}

function Gone(): JSX.Element {
  return (
    <>
      <Back to="#/">Board</Back>
      <p class="empty">This is not on the board any more.</p>
    </>
  );
}

function LinkBar({ known }: { known: Known }): JSX.Element | null {
  useNow();
  if (known.link === "live" || known.link === "asking") {
    return null;
  }
  const text =
    known.link === "unpaired"
      ? "This device is not paired. On the daemon's machine run: dryclock pair. Then point this phone's camera at the code that it prints."
      : `No connection. ${known.board ? `Last update ${agoWords(Date.now() - known.received)}.` : ""} What you tap is kept and sent later.`;
  return (
    <p class="bar-link" role="status">
      <span aria-hidden="true">⊘</span> {text}
    </p>
  );
}

function TapBar({ known }: { known: Known }): JSX.Element | null {
  const { waiting, last } = known;
  useEffect(() => {
    if (last?.seq === undefined) {
      return undefined;
    }
    const timer = setTimeout(putAway, 12_000);
    return () => clearTimeout(timer);
  }, [last]);
  if (waiting.length > 0) {
    return (
      <div class="tap" role="status">
        <p>
          {waiting.length === 1 ? "1 tap waits" : `${waiting.length} taps wait`} to be sent: {waiting.map((one) => one.said).join("; ")}
        </p>
      </div>
    );
  }
  if (!last) {
    return null;
  }
  const { seq } = last;
  return (
    <div class={`tap ${last.refused ? "refused" : ""}`} role="status">
      <p>{last.refused ? `Not taken: ${last.waiting.said}. ${last.refused}` : last.waiting.said}</p>
      {seq !== undefined && !["superseded", "forgotten"].includes(last.waiting.deed.what) && (
        <button type="button" onClick={() => tell({ what: "superseded", event: seq }, "Taken back")}>
          Undo
        </button>
      )}
      <button type="button" onClick={putAway}>
        OK
      </button>
    </div>
  );
}

function Page(): JSX.Element {
  const known = useKnown();
  const place = usePlace();
  const words = useMemo(() => new Words(siteOf(known.catalogue, known.phone), known.catalogue), [known.catalogue, known.phone]);
  return (
    <div class={known.mayWrite ? undefined : "look-only"}>
      <header>
        <h1>
          <a href="#/">{words.site.name}</a>
        </h1>
        {known.link === "live" && <p class="live">live{!known.mayWrite && ", to look at only"}</p>}
      </header>
      <LinkBar known={known} />
      <main>
        <Screen known={known} place={place} words={words} />
      </main>
      <TapBar known={known} />
    </div>
  );
}

const root = document.getElementById("page");
if (root) {
  root.replaceChildren();
  render(<Page />, root);
  start();
}

// Laying: a tap on the panel is "laid now". What it was laid with stands above, as it was last time.
import type { JSX } from "preact";
import { useRef, useState } from "preact/hooks";
import { type Board, bounds, type Catalogue, type Piece, type Side, type Vehicle, type Wetness, type ZoneKind } from "../data/api";
import { laid_here } from "../data/queue";
import { isWrong, NumberField, numberWithin, plainLimits, showField } from "../parts/fields";
import { usual_heat } from "../parts/heat";
import { useWhen, WhenChoice } from "../parts/late";
import { Back, Caution, Choice, FilmPick, Pick, Title, Toggles } from "../parts/parts";
import { PlanChoice, ToLay } from "../parts/plan";
import { HasPiece, onSide, Places, type Where } from "../parts/places";
import { laidNow } from "../parts/steps";
import { type NamedPiece, sentence, type Words } from "../words/words";

interface Manner {
  film: string;
  solution: string;
  wetness: Wetness;
  lots: Record<string, string>; // the roll's lot number, by film
}
const place = "dryclock.manner";

// What makes the film at a recess another than elsewhere.
const at_recess = ["heated", "stretched", "pooled"] as const;
type AtRecess = (typeof at_recess)[number];

function lastManner(catalogue: Catalogue): Manner {
  let last: Partial<Manner> = {};
  try {
    last = JSON.parse(localStorage.getItem(place) ?? "{}") as Partial<Manner>;
  } catch {
    localStorage.removeItem(place);
  }
  const known = (list: { key: string }[], key: string | undefined): string =>
    list.find((one) => one.key === key)?.key ?? list[0]?.key ?? "";
  return {
    film: known(catalogue.films, last.film),
    solution: known(catalogue.solutions, last.solution),
    wetness: last.wetness ?? "usual",
    lots: last.lots ?? {},
  };
}

const whereOf = ({ side, place, part, parts }: NamedPiece, more: Where = {}): Where => ({ ...(side ? { side } : {}), ...(place ? { place } : {}), part, parts, ...more });

export function LayScreen(props: { vehicle: Vehicle; board: Board; catalogue: Catalogue; again: number | null; words: Words }): JSX.Element {
  const { vehicle, catalogue, words } = props;
  const again = vehicle.pieces.find((piece) => piece.id === props.again);
  const others = props.board.vehicles.filter((one) => !one.released && one.id !== vehicle.id);
  const [manner, setManner] = useState<Manner>(() => lastManner(catalogue));
  const when = useWhen(words);
  const [part, setPart] = useState({ part: again?.part ?? 1, parts: again?.parts ?? 1 });
  const [notes, setNotes] = useState({ tension: "", relief_cuts: "", joins: "" });
  const [recess, setRecess] = useState<AtRecess[]>([]);
  const [own, setOwn] = useState("");
  const [placed, setPlaced] = useState<{ panel: string; sides: Side[] } | null>(null);
  const [asked, setAsked] = useState<{ panel: string; side: Side | null; there: Piece[] } | null>(null);
  const [area, setArea] = useState("");
  const area_limits = plainLimits(bounds.LayEvent.area_m2, words);
  const area_field = useRef<HTMLInputElement>(null);
  const lot = manner.lots[manner.film] ?? "";

  const change = (news: Partial<Manner>): void => {
    const next = { ...manner, ...news };
    setManner(next);
    localStorage.setItem(place, JSON.stringify(next));
  };
  // A panel that there are several of asks where; where a piece lies, what this one is.
  const choose = (panel: string): void => {
    const sides = catalogue.panels.find((one) => one.key === panel)?.sides ?? [];
    setAsked(null);
    if (sides.length > 0) {
      setPlaced({ panel, sides });
    } else {
      ask(panel, null);
    }
  };
  const ask = (panel: string, side: Side | null): void => {
    const there = onSide(laidNow(vehicle), panel, side);
    if (there.length > 0 && part.parts === 1) {
      setAsked({ panel, side, there });
    } else {
      lay(panel, { ...part, ...(side ? { side } : {}) });
    }
  };
  const lay = (panel: string, where: Where): void => {
    if (isWrong(area, area_limits)) {
      showField(area_field);
      return;
    }
    // Nothing else tells the zones of a panel in the user's own words: as it was, or a flat with an edge.
    const kinds: ZoneKind[] = again ? again.zones : ["field", "edge", ...(recess.length > 0 ? (["recess"] as const) : [])];
    const zones = catalogue.panels.some((one) => one.key === panel) ? {} : { zones: kinds };
    const stretched = recess.includes("stretched") ? [words.say("lay.recess-tension")] : [];
    const given = { ...notes, tension: [notes.tension.trim(), ...stretched].filter(Boolean).join("; "), lot };
    const written = Object.fromEntries(Object.entries(given).flatMap(([name, text]) => (text.trim() === "" ? [] : [[name, text.trim()]])));
    const { film, solution } = manner;
    const wetness = recess.includes("pooled") ? "pooled" : manner.wetness;
    const { part: which = 1, parts: of = 1, ...rest } = where;
    const piece = { panel, part: which, parts: of, ...rest };
    const parts = of > 1 ? { part: which, parts: of } : {};
    const area_m2 = numberWithin(area, area_limits);
    const heat = recess.includes("heated") ? [{ what: "heat-applied", piece: laid_here, zone: "recess", ...usual_heat } as const] : [];
    const laid_then = when.tell(
      [
        { what: "lay", vehicle: vehicle.id, panel, film, solution, wetness, ...(area_m2 === null ? {} : { area_m2 }), ...parts, ...rest, ...written, ...zones },
        ...heat,
      ],
      (at) => words.say("lay.said", { piece: words.piece(piece), again: where.replaces === undefined ? "no" : "yes", when: at }),
    );
    if (laid_then) {
      location.hash = again ? `#/vehicle/${vehicle.id}` : "#/";
    }
  };

  const recessed = new Set(catalogue.panels.flatMap(({ key, zones }) => (zones.includes("recess") ? [key] : [])));
  // What is said of a recess cannot be of a panel without one.
  const isBarred = (panel: string): boolean => recess.length > 0 && !recessed.has(panel);
  const asks_recess = again ? again.zones.includes("recess") : recessed.size > 0;
  const laid = new Set(laidNow(vehicle).map((piece) => piece.panel));
  const laidThen = (again: "yes" | "no"): string =>
    when.wrong !== ""
      ? words.say("lay.laid-unclear", { again })
      : when.late
        ? words.say("lay.laid-at", { again, when: when.then })
        : words.say("lay.laid-now", { again });
  const chosen = [
    words.film(manner.film),
    words.solution(manner.solution),
    words.wetness(manner.wetness),
    laidThen("no"),
    ...(lot === "" ? [] : [words.say("lay.lot-of", { lot })]),
    ...(part.parts > 1 ? [words.say("lay.piece-of", { part: String(part.part), parts: String(part.parts) })] : []),
  ];
  return (
    <>
      <Back to={`#/vehicle/${vehicle.id}`}>{vehicle.reference}</Back>
      <Title words={words}>{again ? words.say("lay.lay-again", { piece: words.piece(again) }) : words.say("board.lay-on", { reference: vehicle.reference })}</Title>
      {!again && others.length > 0 && (
        <nav class="others" aria-label={words.say("lay.other-vehicle")}>
          <span>{words.say("lay.other-vehicle")}</span>
          {others.map((one) => (
            <a key={one.id} class="button" href={`#/vehicle/${one.id}/lay`} aria-label={words.say("board.lay-on", { reference: one.reference })}>
              {one.reference}
            </a>
          ))}
        </nav>
      )}
      <details class="manner">
        <summary>
          <span>{chosen.join("; ")}</span>
          <b>{words.say("page.change")}</b>
        </summary>
        <FilmPick catalogue={catalogue} value={manner.film} words={words} onPick={(film) => change({ film })} />
        <Pick
          label={words.say("lay.solution")}
          options={catalogue.solutions.map(({ key }) => ({ key, label: words.solution(key) }))}
          value={manner.solution}
          onPick={(solution) => change({ solution })}
        />
        <Choice
          label={words.say("lay.after-squeegee")}
          options={(["dry-pulled", "usual", "wet"] as const).map((value) => ({ value, text: sentence(words.wetness(value)) }))}
          value={manner.wetness}
          onChoose={(wetness) => change({ wetness })}
        />
        <WhenChoice when={when} words={words} />
        <Choice
          label={words.say("lay.pieces-on-panel")}
          options={["1", "2", "3", "4"].map((value) => ({ value, text: value }))}
          value={String(part.parts)}
          onChoose={(parts) => setPart({ part: 1, parts: Number(parts) })}
        />
        {part.parts > 1 && (
          <Choice
            label={words.say("lay.this-is-piece")}
            options={Array.from({ length: part.parts }, (_, i) => ({ value: String(i + 1), text: String(i + 1) }))}
            value={String(part.part)}
            onChoose={(one) => setPart({ ...part, part: Number(one) })}
          />
        )}
        <label class="field">
          <span>{words.say("lay.lot", { film: words.film(manner.film) })}</span>
          <input
            value={lot}
            maxLength={60}
            autocomplete="off"
            onInput={(event) => change({ lots: { ...manner.lots, [manner.film]: event.currentTarget.value } })}
          />
        </label>
        <NumberField label={words.say("lay.area")} text={area} limits={area_limits} words={words} onInput={setArea} field={area_field} />
        {(
          [
            ["tension", "lay.tension"],
            ["relief_cuts", "lay.relief-cuts"],
            ["joins", "lay.joins"],
          ] as const
        ).map(([name, message]) => (
          <label class="field" key={name}>
            <span>{words.say(message)}</span>
            <input
              value={notes[name]}
              maxLength={200}
              onInput={(event) => setNotes({ ...notes, [name]: event.currentTarget.value })}
            />
          </label>
        ))}
      </details>
      {words.alcohol(manner.solution) > 0 && <Caution>{words.say("cautions.solvent")}</Caution>}
      {asks_recess && (
        <Toggles
          label={words.say("lay.recess")}
          options={at_recess.map((value) => ({ value, text: words.say(`lay.recess-${value}`) }))}
          values={recess}
          onChange={setRecess}
        />
      )}
      {again ? (
        <button type="button" class="primary wide" onClick={() => lay(again.panel, whereOf(again, { replaces: again.id }))}>
          {words.about(words.piece(again), laidThen("yes"))}
        </button>
      ) : (
        <>
          <PlanChoice vehicle={vehicle} catalogue={catalogue} words={words} />
          <ToLay vehicle={vehicle} words={words} laid={laidThen("no")} isBarred={isBarred} onLay={(piece) => lay(piece.panel, whereOf(piece))} />
          {asked && <HasPiece there={asked.there} words={words} onDrop={() => setAsked(null)} onLay={(where) => lay(asked.panel, { ...(asked.side ? { side: asked.side } : {}), ...where })} />}
          {placed && (
            <Places panel={placed.panel} sides={placed.sides} pieces={laidNow(vehicle)} laid={laidThen("no")} words={words} onSide={(side) => ask(placed.panel, side)} />
          )}
          <section aria-labelledby="panels">
            <h3 id="panels">{words.say(vehicle.to_lay.length > 0 ? "lay.another-panel" : "lay.tap-panel", { laid: laidThen("no") })}</h3>
            <div class="tiles">
              {catalogue.panels.map((panel) => (
                <button type="button" key={panel.key} disabled={isBarred(panel.key)} onClick={() => choose(panel.key)}>
                  {words.panel(panel.key)}
                  {laid.has(panel.key) && <small>{words.say("lay.has-a-piece")}</small>}
                </button>
              ))}
            </div>
            <form
              class="own"
              onSubmit={(event) => {
                event.preventDefault();
                if (own.trim() !== "") {
                  choose(own.trim());
                }
              }}
            >
              <label class="field">
                <span>{words.say("lay.own-words")}</span>
                <input value={own} onInput={(event) => setOwn(event.currentTarget.value)} maxLength={60} />
              </label>
              <button type="submit">{words.title("vehicle.event-lay")}</button>
            </form>
          </section>
        </>
      )}
    </>
  );
}

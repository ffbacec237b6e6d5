// Where on the vehicle a panel is laid: its sides as one sits in it, and what another piece on the same one is.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { LayEvent, Piece, Side } from "../data/api";
import { useNow } from "./parts";
import { sentence, type Words } from "../words/words";

// What the laying says of where it is.
export type Where = Pick<LayEvent, "side" | "place" | "part" | "parts" | "beside" | "replaces">;

export const onSide = (pieces: Piece[], panel: string, side: Side | null): Piece[] => pieces.filter((piece) => piece.panel === panel && (piece.side ?? null) === side);

// Front on top: left and right, front and rear, upper and lower stand where they are.
export function Places(props: { panel: string; sides: Side[]; pieces: Piece[]; laid: string; words: Words; onSide: (side: Side) => void }): JSX.Element {
  const { panel, sides, pieces, laid, words } = props;
  const now = useNow();
  const name = words.panel(panel);
  const place_of = useRef<HTMLElement>(null);
  useEffect(() => place_of.current?.scrollIntoView({ block: "nearest" }), [panel]);
  return (
    <section class="places" ref={place_of} aria-labelledby="places">
      <h3 id="places">{words.about(name, words.say("lay.where", { laid }))}</h3>
      <p class="small">{words.say("lay.as-you-sit")}</p>
      <div class={sides.length > 1 ? "two" : undefined}>
        {sides.map((side) => {
          const there = onSide(pieces, panel, side).at(-1);
          return (
            <button type="button" key={side} aria-label={words.piece({ panel, part: 1, parts: 1, side })} onClick={() => props.onSide(side)}>
              <span>
                {sentence(words.side(side))}
                <small>{there ? words.say("lay.laid-when", { when: words.when(there.laid, now) }) : words.say("lay.empty")}</small>
              </span>
            </button>
          );
        })}
      </div>
    </section>
  );
}

const opposite: Record<string, string> = {
  "upper-half": "lower-half",
  "lower-half": "upper-half",
  "left-half": "right-half",
  "right-half": "left-half",
  "front-half": "rear-half",
  "rear-half": "front-half",
};

// A piece lies there: another part of the panel, laid again, or a mistake. Nothing is laid until that is answered.
export function HasPiece(props: { there: Piece[]; words: Words; onLay: (where: Where) => void; onDrop: () => void }): JSX.Element {
  const { there, words, onLay, onDrop } = props;
  const now = useNow();
  const [another, setAnother] = useState(false);
  const place_of = useRef<HTMLDivElement>(null);
  useEffect(() => place_of.current?.scrollIntoView({ block: "nearest" }), []);
  const last = there.at(-1);
  const parts = there.length + 1;
  const lay = (place: string): void =>
    onLay({
      part: parts,
      parts,
      ...(place ? { place } : {}),
      beside: there.map(({ id }, index) => ({ piece: id, part: index + 1, ...(place && parts === 2 ? { place: opposite[place] ?? "" } : {}) })),
    });
  const question = last ? words.say("lay.has-piece", { piece: words.piece(last), when: words.when(last.laid, now) }) : "";
  return (
    <div class="ask" ref={place_of} role="group" aria-label={question}>
      <p>
        <b>{question}</b>
      </p>
      {another ? (
        <>
          <p>{words.say("lay.which-part")}</p>
          <p class="two">
            {(parts === 2 ? Object.keys(opposite) : []).map((place) => (
              <button type="button" key={place} onClick={() => lay(place)}>
                {sentence(words.place(place))}
              </button>
            ))}
            <button type="button" onClick={() => lay("")}>
              {words.say("lay.part-without-name", { part: String(parts), parts: String(parts) })}
            </button>
          </p>
        </>
      ) : (
        <p class="three">
          <button type="button" onClick={() => setAnother(true)}>
            <span>
              {words.say("lay.another-part")} <small>{words.say("lay.both-stay")}</small>
            </span>
          </button>
          <button type="button" onClick={() => last && onLay({ replaces: last.id, ...(last.place ? { place: last.place } : {}), part: last.part, parts: last.parts })}>
            <span>
              {words.say("lay.laid-again")} <small>{words.say("lay.old-is-off")}</small>
            </span>
          </button>
          <button type="button" onClick={onDrop}>
            {words.say("lay.a-mistake")}
          </button>
        </p>
      )}
    </div>
  );
}

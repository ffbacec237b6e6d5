// A plot, drawn by what is fetched when one is looked at.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";

type Plots = typeof import("../plots/plot");

interface Props {
  class: string;
  draw: ((plots: Plots, place: HTMLElement) => () => void) | null; // gives what takes it away again; null: nothing to draw
  on: unknown[]; // it is drawn again when one of these is another
  failed: string; // what is said where it cannot be fetched
}

export function Drawn(props: Props): JSX.Element {
  const { draw, on } = props;
  const place = useRef<HTMLDivElement>(null);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    if (!draw) {
      return undefined;
    }
    let erase: (() => void) | undefined;
    let current = true;
    import("../plots/plot")
      .then((plots) => {
        if (current && place.current) {
          setFailed(false);
          erase = draw(plots, place.current);
        }
      })
      .catch(() => current && setFailed(true));
    return () => {
      current = false;
      erase?.();
    };
  }, on);
  return (
    <>
      {failed && <p class="old">{props.failed}</p>}
      <div class={props.class} ref={place} />
    </>
  );
}

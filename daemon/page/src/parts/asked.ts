// What the daemon answers, asked for while it is looked at.
import { useEffect, useState } from "preact/hooks";
import { useKnown } from "../data/store";

export interface Asked<T> {
  answer: T | null; // the newest
  failed: boolean; // since then
}

// What `get` answers: asked again when one of `on` is another.
export function useAnswer<T>(get: () => Promise<T>, on: unknown[]): Asked<T> {
  const [state, setState] = useState<Asked<T>>({ answer: null, failed: false });
  useEffect(() => {
    let current = true;
    get()
      .then((answer) => current && setState({ answer, failed: false }))
      .catch(() => current && setState((before) => ({ ...before, failed: true })));
    return () => {
      current = false;
    };
  }, on);
  return state;
}

// What `get` answers: asked again every few seconds, and when something was told.
export function useAsked<T>(get: () => Promise<T>, every = 5000): Asked<T> {
  const [state, setState] = useState<Asked<T>>({ answer: null, failed: false });
  const { last } = useKnown();
  useEffect(() => {
    let current = true;
    const ask = (): void => {
      get()
        .then((answer) => current && setState({ answer, failed: false }))
        .catch(() => current && setState((before) => ({ ...before, failed: true })));
    };
    ask();
    const timer = setInterval(ask, every);
    return () => {
      current = false;
      clearInterval(timer);
    };
  }, [get, every, last]);
  return state;
}

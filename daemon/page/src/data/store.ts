// What the page knows, in one place; screens are functions of it.
import { useEffect, useState } from "preact/hooks";
import { type Board, type Catalogue, type Deed, getAccess, getCatalogue, shapes } from "./api";
import { type Link, Live } from "./live";
import { type Phone, phone, remember } from "./phone";
import { type Kept, Queue, type Taken, vehicleOf } from "./queue";

export interface Known extends Kept {
  board: Board | null;
  received: number; // Date.now() when the board came
  link: Link;
  catalogue: Catalogue | null;
  mayWrite: boolean; // false on a screen that may only look
  phone: Phone;
  last: Taken | null; // the last tap that was taken, until it is put away
  fresh: { deed: Deed; seq: number }[]; // taken, and not on the board yet
}

let known: Known = {
  board: null,
  received: 0,
  link: "asking",
  catalogue: null,
  mayWrite: true,
  phone: phone(),
  waiting: [],
  refused: [],
  last: null,
  fresh: [],
};
const listeners = new Set<() => void>();

function learn(news: Partial<Known>): void {
  known = { ...known, ...news };
  for (const listener of listeners) {
    listener();
  }
}

export const knownNow = (): Known => known;

export function useKnown(): Known {
  const [seen, see] = useState(known);
  useEffect(() => {
    const listener = (): void => see(known);
    listeners.add(listener);
    listener();
    return () => void listeners.delete(listener);
  }, []);
  return seen;
}

const remembered = "dryclock.board";
const remembered_before = "dryclock.last";
type Remembered = Pick<Known, "board" | "received" | "catalogue"> & { shapes: string };

function recall(): void {
  localStorage.removeItem(remembered_before);
  try {
    const last = JSON.parse(localStorage.getItem(remembered) ?? "null") as Remembered | null;
    if (last?.shapes === shapes) {
      const { board, received, catalogue } = last;
      learn({ board, received, catalogue });
    }
  } catch {
    localStorage.removeItem(remembered);
  }
}

const queue = new Queue(
  (kept) => learn(kept),
  (last) => {
    const seq = last.seqs.at(-1);
    const fresh = seq === undefined || seq <= (known.board?.applied ?? 0) ? known.fresh : [...known.fresh, { deed: last.waiting.deed, seq }];
    learn({ last, fresh });
  },
);

export function start(): void {
  recall();
  learn(queue.kept);
  let asking = false;
  const askCatalogue = (): void => {
    if (!asking) {
      asking = true;
      Promise.all([getCatalogue(), getAccess()])
        .then(([catalogue, { may_write: mayWrite }]) => learn({ catalogue, mayWrite }))
        .catch(() => undefined) // the link's state tells
        .finally(() => (asking = false));
    }
  };
  askCatalogue();
  new Live(
    (board) => {
      learn({ board, received: Date.now(), fresh: known.fresh.filter(({ seq }) => seq > board.applied) });
      if (!known.catalogue) {
        askCatalogue();
      }
      const { received, catalogue } = known;
      localStorage.setItem(remembered, JSON.stringify({ board, received, catalogue, shapes } satisfies Remembered));
    },
    (link) => {
      const { link: before } = known;
      learn({ link });
      if (link === "live" && before !== "live") {
        void queue.send();
        if (before !== "asking") {
          askCatalogue(); // the shop's settings may be others since
        }
      }
    },
  );
}

// The daemon's time, carried on by this device's clock: its own may be wrong.
export function shopNow(): Date {
  const { board, received } = known;
  return board ? new Date(Date.parse(board.now) + Date.now() - received) : new Date();
}

const tapped = "dryclock.tapped";
const ahead_allowed = 5 * 60_000; // ms: what lies further ahead the daemon does not take

// When a tap happens: by the shop's clock, and not before this phone's last tap. Each board sets the clock anew, and back
// where the daemon's stands still.
export function tapTime(): Date {
  const now = shopNow().getTime();
  const last = Number(localStorage.getItem(tapped));
  const at = last > now && last - now < ahead_allowed ? last : now;
  localStorage.setItem(tapped, String(at));
  return new Date(at);
}

function concerned(deed: Deed): number | undefined {
  if ("vehicle" in deed) {
    return deed.vehicle;
  }
  if ("piece" in deed) {
    return known.board?.vehicles.find((one) => one.pieces.some((piece) => piece.id === deed.piece))?.id;
  }
  const { last } = known;
  return deed.what === "superseded" && last?.seqs.includes(deed.event) && !last.waiting.several ? vehicleOf(last.waiting) : undefined;
}

// One deed, or all that one tap tells.
export function tell(told: Deed | Deed[], said: string, at: Date = tapTime()): void {
  const deeds = [told].flat();
  const { who } = known.phone;
  learn({ last: null });
  queue.add(
    deeds.map((deed) => {
      const vehicle = concerned(deed);
      return { deed, ...(vehicle !== undefined ? { vehicle } : {}) };
    }),
    at,
    said,
    who ? { who } : {},
  );
}

export function setPhone(choice: Phone): void {
  remember(choice);
  learn({ phone: choice });
}

export function putAway(): void {
  learn({ last: null });
}
export const putRefusedAway = (key: string): void => queue.putAway(key);

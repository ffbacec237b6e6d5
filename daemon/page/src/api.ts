// The API as the page reads it: /api/v1/openapi.json describes all of it.

export type Instant = string; // RFC 3339, UTC
export interface Quantiles {
  low: number | null;
  likely: number | null;
  high: number | null;
}
export interface Spread {
  early: Instant | null;
  likely: Instant | null;
  late: Instant | null;
}
export type ZoneKind = "field" | "edge" | "recess" | "turn";
export type Wetness = "dry-pulled" | "usual" | "wet";
export type Finding = "wet" | "hazy" | "clear" | "lifting";
export type Which = "wrap-ready" | "trim-ready" | "refit-ready" | "dry";

export interface Zone {
  kind: ZoneKind;
  water: Quantiles;
  excess: Quantiles;
  bond: Quantiles;
  hours_to_go: Quantiles;
  dry_probability: number;
  validity: string[];
}
export interface Milestone {
  which: Which;
  probability: number;
  announced: Instant | null;
  expected: Spread;
  held_by: string;
  limiting_zone: ZoneKind | null;
}
export interface Piece {
  id: number;
  panel: string;
  part: number;
  parts: number;
  film: string;
  solution: string;
  wetness: Wetness;
  laid: Instant;
  wrapped: Instant | null;
  trimmed: Instant | null;
  refitted: Instant | null;
  removed: Instant | null;
  replaced_by: number | null;
  replaces: number | null;
  state: { zones: Zone[]; panel_c: number; validity: string[] };
  as_of: Instant;
  standard_hours: number;
  milestones: Milestone[];
  early_steps: { event: number; step: string; probability: number; still_wet: string }[];
}
export interface Vehicle {
  id: number;
  reference: string;
  bay: string;
  arrived: Instant;
  hand_over: Instant | null;
  released: Instant | null;
  pieces: Piece[];
  release_probability: number;
  release_ready: Instant | null;
  release_expected: Spread;
  held_by: string;
  hand_over_probability: number;
}
export interface Bay {
  name: string;
  air_c: number | null;
  rh_pct: number | null;
  panel_c: number | null;
  dew_point_c: number | null;
  pace: number | null;
  as_of: Instant | null;
}
export interface Alert {
  id: string;
  level: "news" | "warning" | "urgent";
  raised: Instant;
  acknowledged: Instant | null;
  text: string;
  advice: string;
}
export interface Board {
  now: Instant;
  applied: number;
  bays: Bay[];
  vehicles: Vehicle[];
  alerts: Alert[];
}
export interface AirPoint {
  at: Instant;
  air_c: number | null;
  rh_pct: number | null;
  panel_c: number | null;
  dew_point_c: number | null;
  pace: number | null;
  bridged: boolean;
}
export interface Site {
  name: string;
  time_zone: string;
  dialect: "uk" | "us";
  temperature_unit: "C" | "F";
}
export interface Catalogue {
  site: Site;
  films: { key: string; label: string }[];
  solutions: { key: string; label: string; alcohol_fraction: number }[];
  panels: { key: string; label_uk: string; label_us: string; zones: ZoneKind[] }[];
}

// What was done, as POST /api/v1/events takes it.
export type Deed =
  | { what: "vehicle-in"; reference: string; bay: string; hand_over?: Instant; panel_c?: number }
  | {
      what: "lay";
      vehicle: number;
      panel: string;
      film: string;
      solution: string;
      wetness: Wetness;
      part?: number;
      parts?: number;
      zones?: ZoneKind[];
      replaces?: number;
      tension?: string;
      relief_cuts?: string;
      joins?: string;
    }
  | { what: "edge-wrapped" | "trimmed" | "refitted" | "piece-removed" | "edge-opened"; piece: number }
  | { what: "inspected"; piece: number; zone: ZoneKind; finding: Finding }
  | { what: "released"; vehicle: number; advised?: string }
  | { what: "superseded"; event: number }
  | { what: "acknowledged"; alert: string };

export interface Problem {
  status: number;
  detail: string;
}

// A refusal by the server, as against a network that does not carry.
export class Refusal extends Error {
  constructor(readonly problem: Problem) {
    super(problem.detail);
  }
}

const patience = 8000; // ms, for any one answer

async function answer<T>(path: string, init: RequestInit = {}): Promise<T> {
  const response = await fetch(path, { ...init, signal: AbortSignal.timeout(patience) });
  const body: unknown = await response.json().catch(() => null);
  if (!response.ok) {
    const detail = (body as Problem | null)?.detail ?? response.statusText;
    throw new Refusal({ status: response.status, detail });
  }
  return body as T;
}

export const getBoard = (): Promise<Board> => answer("/api/v1/board");
export const getCatalogue = (): Promise<Catalogue> => answer("/api/v1/catalogue");
export const getAir = (bay: string, from: Instant, to: Instant): Promise<{ points: AirPoint[] }> =>
  answer(`/api/v1/bays/${encodeURIComponent(bay)}/air?from=${from}&to=${to}`);
export const postEvent = (event: object): Promise<{ seq: number }> =>
  answer("/api/v1/events", {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(event),
  });

// The API as the page reads it: /api/v1/openapi.json describes all of it.

import type { CheckResult, FilmResult, Mapped, Salt } from "./sensors_api";

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
export type HeatSource = "heat-gun" | "lamp" | "sun";
export type Recheck = "sound" | "lifting" | "redone";
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
  gone: ("panel" | "film" | "solution")[]; // no longer in the catalogue
  wetness: Wetness;
  laid: Instant;
  wrapped: Instant | null;
  trimmed: Instant | null;
  refitted: Instant | null;
  removed: Instant | null;
  replaced_by: number | null;
  replaces: number | null;
  notes: { tension: string; relief_cuts: string; joins: string };
  state: { zones: Zone[]; panel_c: number; validity: string[] };
  as_of: Instant;
  standard_hours: number;
  milestones: Milestone[];
  early_steps: { event: number; step: string; probability: number; still_wet: string }[];
}
export interface PlannedPiece {
  panel: string;
  part: number;
  parts: number;
}
export interface PieceToLay extends PlannedPiece {
  lay_by: Instant | null; // to be dry by the agreed hand-over
  chance_now: number | null; // of that, if it were laid now
}
export interface Vehicle {
  id: number;
  reference: string;
  bay: string;
  arrived: Instant;
  hand_over: Instant | null;
  released: Instant | null;
  to_lay: PieceToLay[];
  pieces: Piece[];
  release_probability: number;
  release_ready: Instant | null;
  release_expected: Spread;
  held_by: string;
  hand_over_probability: number;
}
export interface Bay {
  name: string;
  gone: boolean; // no longer in the settings
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
  cleared: Instant | null;
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
// Those that something may come into.
export function baysOf(board: Board): string[] {
  return board.bays.filter((bay) => !bay.gone).map((bay) => bay.name);
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
export interface HistoryPoint {
  at: Instant;
  zones: { kind: ZoneKind; water: Quantiles }[];
}
// An event as the journal keeps it; which fields it has depends on `what`.
export interface Told {
  seq: number;
  at: Instant;
  entered: Instant;
  what: string;
  who?: string;
  note?: string;
  panel?: string;
  piece?: number;
  event?: number;
  zone?: ZoneKind;
  finding?: string;
  surface_c?: number;
  minutes?: number;
  on?: boolean;
}
export interface Health {
  ok: boolean;
  version: string;
  started: Instant;
  parts: { name: string; ok: boolean; text: string }[];
  space: { database_bytes: number; seal_bytes: number; free_bytes: number; bytes_per_day: number; years_left: number | null } | null;
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
  panels: { key: string; label_uk: string; label_us: string; area_m2: number; zones: ZoneKind[] }[];
  templates: { key: string; label_uk: string; label_us: string; pieces: PlannedPiece[] }[];
}

// A vehicle that has left, for its recheck.
export interface HandedOver {
  id: number;
  reference: string;
  released: Instant;
  recheck_from: Instant;
  recheck_until: Instant;
  pieces: (PlannedPiece & { id: number; rechecked: Instant | null; finding: Recheck | null })[];
}
export interface Channels {
  channels: { name: string; kind: "mqtt" | "webhook" | "mail" | "command"; least: "news" | "warning" | "urgent" }[];
  quiet: string; // "22:00-06:30"; empty: none
}

// What was done, as POST /api/v1/events takes it.
export type Deed =
  | { what: "vehicle-in"; reference: string; bay: string; hand_over?: Instant; panel_c?: number; plate?: string; customer?: string }
  | { what: "forgotten"; vehicle: number }
  | { what: "vehicle-moved"; vehicle: number; bay: string }
  | { what: "hand-over"; vehicle: number; hand_over: Instant | null }
  | { what: "lamp"; vehicle: number; on: boolean; heat_w_m2?: number }
  | { what: "note"; vehicle: number; note: string }
  | { what: "planned"; vehicle: number; pieces: PlannedPiece[] }
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
      lot?: string;
      area_m2?: number;
      replaces?: number;
      tension?: string;
      relief_cuts?: string;
      joins?: string;
    }
  | { what: "edge-wrapped" | "trimmed" | "refitted" | "piece-removed" | "edge-opened"; piece: number }
  | { what: "inspected"; piece: number; zone: ZoneKind; finding: Finding }
  | { what: "heat-applied"; piece: number; source: HeatSource; surface_c: number; minutes: number }
  | { what: "rechecked"; piece: number; finding: Recheck; zone?: ZoneKind }
  | { what: "released"; vehicle: number; advised?: string }
  | { what: "superseded"; event: number }
  | { what: "acknowledged"; alert: string }
  | { what: "sensor-assigned"; sensor: string; bay: string; reads: Mapped[] }
  | { what: "sensor-retired" | "sensor-check-ended"; sensor: string }
  | { what: "sensor-check-started"; sensor: string; salt: Salt }
  | { what: "sensor-corrected"; sensor: string; quantity: Mapped["quantity"]; slope: number; offset: number }
  | CheckResult
  | FilmResult
  | { what: "coupon-laid"; film: string; lot: string; bay: string; area_m2: number; water_grams: number }
  | { what: "coupon-weighed"; coupon: number; grams: number };

// Kept outside the journal, asked for by itself: it is in no board, and in nothing that the phone remembers.
export interface Personal {
  plate: string | null;
  customer: string | null;
}

export interface RecheckGroup {
  by: "all" | "trim" | "tension" | "release" | "zone" | "panel";
  of: string;
  pieces: number;
  lifted: number;
  low: number;
  high: number;
  few: boolean;
}
export interface RecheckReport {
  vehicles: number;
  pending: number;
  few_below: number;
  groups: RecheckGroup[];
}

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
const long_patience = 40_000; // where a mail server is asked, or days are read from the journal

export async function answer<T>(path: string, init: RequestInit = {}, within = patience): Promise<T> {
  const response = await fetch(path, { ...init, signal: AbortSignal.timeout(within) });
  const body: unknown = await response.json().catch(() => null);
  if (!response.ok) {
    const detail = (body as Problem | null)?.detail ?? response.statusText;
    throw new Refusal({ status: response.status, detail });
  }
  return body as T;
}

export const getBoard = (): Promise<Board> => answer("/api/v1/board");
export const getAccess = (): Promise<{ may_write: boolean }> => answer("/api/v1/access");
export const getCatalogue = (): Promise<Catalogue> => answer("/api/v1/catalogue");
export const getAir = (bay: string, from: Instant, to: Instant): Promise<{ points: AirPoint[] }> =>
  answer(`/api/v1/bays/${encodeURIComponent(bay)}/air?from=${from}&to=${to}`);
export const getHistory = (piece: number): Promise<{ points: HistoryPoint[] }> => answer(`/api/v1/pieces/${piece}/history`);
export const getEvents = (vehicle: number): Promise<{ events: Told[] }> => answer(`/api/v1/events?vehicle=${vehicle}`);
export const getRechecks = (): Promise<RecheckReport> => answer("/api/v1/rechecks");
export const getPersonal = (vehicle: number): Promise<Personal> => answer(`/api/v1/vehicles/${vehicle}/personal`);
export const getAlerts = (from: Instant, to: Instant): Promise<{ alerts: Alert[] }> => answer(`/api/v1/alerts?from=${from}&to=${to}`);
export const getHandedOver = (): Promise<{ vehicles: HandedOver[] }> => answer("/api/v1/handed-over");
export const getPastVehicle = (id: number): Promise<Vehicle> => answer(`/api/v1/handed-over/${id}`, {}, long_patience);
export const getChannels = (): Promise<Channels> => answer("/api/v1/channels");
export const testChannel = (name: string): Promise<{ delivered: boolean; why: string }> =>
  answer(`/api/v1/channels/${encodeURIComponent(name)}/test`, { method: "POST" }, long_patience);
// A daemon that is not well answers too, with 503.
export async function getHealth(): Promise<Health> {
  const response = await fetch("/api/v1/health", { signal: AbortSignal.timeout(patience) });
  const body = (await response.json()) as Health | Problem;
  if (!("parts" in body)) {
    throw new Refusal(body);
  }
  return body;
}
export const postEvent = (event: object): Promise<{ seq: number }> =>
  answer("/api/v1/events", {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(event),
  });

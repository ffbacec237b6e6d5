// What the page asks of the daemon. Shapes and bounds are the daemon's own: api_types.ts is made while the page is built.

import type * as api from "./api_types";

export type * from "./api_types";
export { bounds, shapes } from "./api_types";
export type Instant = string; // RFC 3339, UTC
export type ZoneKind = api.Zone["kind"];
export type Wetness = api.Piece["wetness"];
export type Which = api.Milestone["which"];
export type Finding = api.InspectedEvent["finding"];
export type PlateSign = api.PlateSeenEvent["sign"];
export type HeatSource = NonNullable<api.HeatAppliedEvent["source"]>;
export type Recheck = api.RecheckedEvent["finding"];
export type Side = NonNullable<api.Piece["side"]>;
export type Salt = api.SaltPoint["salt"];

// What was done, as POST /api/v1/events takes it, and as the journal keeps it.
export type Deed = api.Event;
export type RecordedEvent = Deed & { seq: number; at: Instant; entered: Instant };
// The numbers of those that were taken back.
export const withdrawnIn = (recorded: RecordedEvent[]): Set<number> =>
  new Set(recorded.flatMap((one) => (one.what === "superseded" ? [one.event] : [])));

// Those that something may come into.
export function baysOf(board: api.Board): string[] {
  return board.bays.filter((bay) => !bay.gone).map((bay) => bay.name);
}

// A refusal by the server, as against a network that does not carry.
export class Refusal extends Error {
  constructor(readonly problem: Pick<api.Problem, "status" | "detail" | "fact">) {
    super(problem.detail);
  }
}

const patience = 8000; // ms, for any one answer
const long_patience = 40_000; // where a mail server is asked, or days are read from the journal

async function answer<T>(path: string, init: RequestInit = {}, within = patience): Promise<T> {
  const response = await fetch(path, { ...init, signal: AbortSignal.timeout(within) });
  const body: unknown = await response.json().catch(() => null);
  if (!response.ok) {
    const problem = body as api.Problem | null;
    throw new Refusal({ detail: response.statusText, ...problem, status: response.status });
  }
  return body as T;
}

export const getBoard = (): Promise<api.Board> => answer("/api/v1/board");
export const getAccess = (): Promise<api.Permission> => answer("/api/v1/access");
export const getCatalogue = (): Promise<api.Catalogue> => answer("/api/v1/catalogue");
export const getAir = (bay: string, from: Instant, to: Instant): Promise<api.Air> =>
  answer(`/api/v1/bays/${encodeURIComponent(bay)}/air?from=${from}&to=${to}`);
export const getHistory = (piece: number): Promise<api.History> => answer(`/api/v1/pieces/${piece}/history`);
export const getEvents = (vehicle: number): Promise<{ events: RecordedEvent[] }> => answer(`/api/v1/events?vehicle=${vehicle}`);
export const getRechecks = (): Promise<api.RecheckReport> => answer("/api/v1/rechecks");
export const getPersonal = (vehicle: number): Promise<api.Personal> => answer(`/api/v1/vehicles/${vehicle}/personal`);
export const getAlerts = (from: Instant, to: Instant): Promise<api.Alerts> => answer(`/api/v1/alerts?from=${from}&to=${to}`);
export const getHandedOver = (): Promise<api.HandedOverList> => answer("/api/v1/handed-over");
export const getPastVehicle = (id: number): Promise<api.Vehicle> => answer(`/api/v1/handed-over/${id}`, {}, long_patience);
export const getChannels = (): Promise<api.Channels> => answer("/api/v1/channels");
export const testChannel = (name: string): Promise<api.ChannelTest> =>
  answer(`/api/v1/channels/${encodeURIComponent(name)}/test`, { method: "POST" }, long_patience);
// A daemon that is not well answers too, with 503.
export async function getHealth(): Promise<api.Health> {
  const response = await fetch("/api/v1/health", { signal: AbortSignal.timeout(patience) });
  const body = (await response.json()) as api.Health | api.Problem;
  if (!("parts" in body)) {
    throw new Refusal(body);
  }
  return body;
}
const post = <T>(path: string, body: object): Promise<T> =>
  answer(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
export const postEvent = (event: object): Promise<api.Accepted> => post("/api/v1/events", event);
export const getSensors = (): Promise<api.Sensors> => answer("/api/v1/sensors");
export const getSearch = (): Promise<api.SensorSearch> => answer("/api/v1/sensors/search");
export const startSearch = (seconds: number): Promise<api.SensorSearch> => post("/api/v1/sensors/search", { seconds });
export const getLearned = (): Promise<api.Learned> => answer("/api/v1/learned");
export const getCoupons = (): Promise<api.Coupons> => answer("/api/v1/coupons");
export const getPlates = (): Promise<api.Plates> => answer("/api/v1/plates");

// Sensors, searches and coupons as the page reads them.
import { answer, type Instant } from "./api";

export interface Mapped {
  topic: string;
  pointer: string;
  quantity: "air-temperature" | "relative-humidity" | "panel-temperature" | "air-speed";
  unit: string;
  slope: number;
  offset: number;
  time_pointer: string;
}
export interface SensorRead extends Mapped {
  value: number | null;
  at: Instant | null;
  last_verdict: string;
  counts: Record<string, number>;
}
export type Salt = "LiCl" | "MgCl2" | "K2CO3" | "NaCl" | "KCl" | "K2SO4";
export type CheckVerdict = "agrees" | "doubtful" | "off";
// An event as it may be told.
export interface CheckResult {
  what: "sensor-checked";
  sensor: string;
}
export interface FilmResult {
  what: "film-measured";
  film: string;
  resistance: number;
  relative_uncertainty: number;
}
export interface Sensor {
  sensor: string;
  bay: string;
  from: "file" | "assigned";
  model: string;
  place: string;
  tolerance_pct: number;
  heard: Instant | null;
  reads: SensorRead[];
  checking: {
    salt: Salt;
    since: Instant;
    until: Instant;
    temperature_c: number | null;
    shown_pct: number | null;
    text: string;
    result: CheckResult | null;
  } | null;
  last_check: {
    at: Instant;
    due: Instant;
    current: boolean;
    salt: Salt;
    expected_pct: number;
    shown_pct: number;
    verdict: CheckVerdict;
    slope: number | null;
    offset: number | null;
  } | null;
}
export interface Sensors {
  now: Instant;
  sensors: Sensor[];
  salts: { salt: Salt; expected_pct: number | null; expanded_pct: number | null }[];
}
export interface Proposal {
  name: string;
  reads: (Mapped & { sample: string })[];
  guesses: string[];
}
export interface Search {
  running: boolean;
  until: Instant | null;
  topics: { topic: string; payload: string; count: number; kind: "readings" | "availability" | "other" | "taken" }[];
  sensors: Proposal[];
}
export interface Coupon {
  coupon: number;
  laid: Instant;
  film: string;
  lot: string;
  bay: string;
  weighings: { event: number; at: Instant; grams: number }[];
  text: string;
  measured: FilmResult | null;
  result: FilmResult | null;
}

export const getSensors = (): Promise<Sensors> => answer("/api/v1/sensors");
export const getSearch = (): Promise<Search> => answer("/api/v1/sensors/search");
export const startSearch = (seconds: number): Promise<Search> =>
  answer("/api/v1/sensors/search", {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ seconds }),
  });
export const getCoupons = (): Promise<{ coupons: Coupon[] }> => answer("/api/v1/coupons");

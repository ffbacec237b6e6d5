// What this device shows otherwise than the shop's settings say, and who holds it; what is left out follows the shop.
import type { Site } from "./api";

export type Phone = Partial<Pick<Site, "temperature_unit" | "dialect">> & { who?: string };

const place = "dryclock.phone";
export const longest_who = 40;

export function phone(): Phone {
  try {
    const kept = JSON.parse(localStorage.getItem(place) ?? "{}") as Phone;
    return {
      ...(kept.temperature_unit === "C" || kept.temperature_unit === "F" ? { temperature_unit: kept.temperature_unit } : {}),
      ...(kept.dialect === "uk" || kept.dialect === "us" ? { dialect: kept.dialect } : {}),
      ...(typeof kept.who === "string" && kept.who !== "" ? { who: kept.who.slice(0, longest_who) } : {}),
    };
  } catch {
    localStorage.removeItem(place);
    return {};
  }
}

export function remember(choice: Phone): void {
  localStorage.setItem(place, JSON.stringify(choice));
}

// What this device shows otherwise than the shop's settings say, and who holds it; what is left out follows the shop.
import type { Site } from "./api";

type Language = Site["language"];
export type Phone = Partial<Pick<Site, "temperature_unit" | "language">> & { who?: string };

const place = "dryclock.phone";
export const longest_who = 40;
export const languages: Language[] = ["en-GB", "en-US", "de"];

// Kept by pages of before there were languages: which English.
interface Before {
  dialect?: unknown;
}
const languageOf = ({ language, dialect }: Phone & Before): Language | undefined =>
  dialect === "uk" ? "en-GB" : dialect === "us" ? "en-US" : languages.find((one) => one === language);

export function phone(): Phone {
  try {
    const kept = JSON.parse(localStorage.getItem(place) ?? "{}") as Phone & Before;
    const language = languageOf(kept);
    return {
      ...(kept.temperature_unit === "C" || kept.temperature_unit === "F" ? { temperature_unit: kept.temperature_unit } : {}),
      ...(language ? { language } : {}),
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

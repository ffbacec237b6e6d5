// What this phone shows, how the daemon is, and the cautions.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { type Channels, getChannels, getHealth, type Health, type Site, testChannel } from "../data/api";
import { longest_who, type Phone } from "../data/phone";
import { Back, Caution, Choice, useNow } from "../parts/parts";
import { setPhone } from "../data/store";
import { cautions, type Words } from "../words/words";

const dialects = { uk: "UK: bonnet, boot", us: "US: hood, trunk" };

export function SettingsScreen({ shop, phone, words }: { shop: Site; phone: Phone; words: Words }): JSX.Element {
  // Exact optional properties: what follows the shop is left out, not undefined.
  const choose = <Name extends "temperature_unit" | "dialect">(name: Name, value: Site[Name] | "shop"): void => {
    const { [name]: _, ...others } = phone;
    setPhone(value === "shop" ? (others as Phone) : { ...phone, [name]: value });
  };
  return (
    <>
      <Back to="#/">Board</Back>
      <h2>Settings</h2>
      <section aria-labelledby="phone">
        <h3 id="phone">On this phone</h3>
        <Choice
          label="Temperatures"
          options={[
            { value: "shop" as const, text: `As the shop (°${shop.temperature_unit})` },
            { value: "C" as const, text: "°C" },
            { value: "F" as const, text: "°F" },
          ]}
          value={phone.temperature_unit ?? "shop"}
          onChoose={(value) => choose("temperature_unit", value)}
        />
        <Choice
          label="Words and clock"
          options={[
            { value: "shop" as const, text: `As the shop (${shop.dialect.toUpperCase()})` },
            { value: "uk" as const, text: dialects.uk },
            { value: "us" as const, text: dialects.us },
          ]}
          value={phone.dialect ?? "shop"}
          onChoose={(value) => choose("dialect", value)}
        />
        <label class="field">
          <span>Who has this phone: name or initials (may be left empty)</span>
          <input
            value={phone.who ?? ""}
            maxLength={longest_who}
            autocomplete="off"
            aria-describedby="who"
            onChange={(event) => {
              const { who: _, ...others } = phone;
              const who = event.currentTarget.value.trim();
              setPhone(who === "" ? others : { ...others, who });
            }}
          />
          <small id="who">Stands beside what is tapped here, in the list and on the record.</small>
        </label>
        <p class="small">Times are the shop's: {shop.time_zone.replace("_", " ")}.</p>
        <dl class="figures">
          <div>
            <dt>Address of this page</dt>
            <dd class="address">{location.origin}</dd>
          </div>
        </dl>
        <p class="small">To pair another phone, run on the daemon's machine: dryclock pair</p>
      </section>
      <AlertChannels />
      <section aria-labelledby="measuring">
        <h3 id="measuring">What is measured</h3>
        <div class="actions">
          <a class="button" href="#/sensors">
            Sensors
          </a>
          <a class="button" href="#/coupon">
            Film test plates
          </a>
        </div>
      </section>
      <DaemonHealth words={words} />
      <section aria-labelledby="cautions">
        <h3 id="cautions">Cautions</h3>
        {Object.entries(cautions).map(([name, text]) => (
          <Caution key={name}>{text}</Caution>
        ))}
      </section>
    </>
  );
}

const levels = { news: "news, warnings and urgent alerts", warning: "warnings and urgent alerts", urgent: "urgent alerts" };

// Where alerts go besides this page, and whether they would arrive.
function AlertChannels(): JSX.Element {
  const [known, setKnown] = useState<Channels | null>(null);
  const [said, setSaid] = useState<Record<string, string>>({});
  useEffect(() => {
    let current = true;
    getChannels()
      .then((channels) => current && setKnown(channels))
      .catch(() => undefined); // the link's state tells
    return () => {
      current = false;
    };
  }, []);
  const test = (name: string): void => {
    const say = (text: string): void => setSaid((before) => ({ ...before, [name]: text }));
    say("Sending ...");
    testChannel(name)
      .then(({ delivered, why }) => say(delivered ? "✓ Delivered." : `✕ Not delivered: ${why}`))
      .catch((error: Error) => say(`✕ Not sent: ${error.message}`));
  };
  return (
    <section aria-labelledby="channels">
      <h3 id="channels">Where alerts go</h3>
      {known && (
        <>
          <ul class="plain">
            {known.channels.map(({ name, kind, least }) => (
              <li key={name}>
                <b>{name === "mqtt" ? "MQTT" : name}</b> {kind === "mqtt" ? "every alert, and what is over" : `by ${kind}: ${levels[least]}`}
                <p class="actions">
                  <button type="button" onClick={() => test(name)}>
                    Send a test to {name === "mqtt" ? "MQTT" : name}
                  </button>
                </p>
                <p role="status">{said[name] ?? ""}</p>
              </li>
            ))}
          </ul>
          {known.channels.length === 1 && <p class="small">No phone or mail is set: see [[notify]] in the daemon's settings.</p>}
          <p class="small">
            {known.quiet === ""
              ? "No quiet hours are set."
              : `Quiet from ${known.quiet.replace("-", " to ")}: what is not urgent waits, and is told then if it is still so.`}
          </p>
        </>
      )}
    </section>
  );
}

function DaemonHealth({ words }: { words: Words }): JSX.Element {
  const now = useNow();
  const [health, setHealth] = useState<Health | null>(null);
  const [failed, setFailed] = useState(false);
  const minute = Math.floor(now.getTime() / 60_000);
  useEffect(() => {
    let current = true;
    getHealth()
      .then((answer) => {
        if (current) {
          setHealth(answer);
          setFailed(false);
        }
      })
      .catch(() => current && setFailed(true));
    return () => {
      current = false;
    };
  }, [minute]);
  return (
    <section aria-labelledby="daemon">
      <h3 id="daemon">The daemon</h3>
      {failed && <p class="old">It does not answer now.</p>}
      {health && !failed && (
        <>
          <p>
            <b>{health.ok ? "✓ All is well." : "✕ A part fails."}</b> Version {health.version}, running since {words.when(health.started, now)}.
          </p>
          <ul class="plain">
            {health.parts.map((part) => (
              <li key={part.name}>
                {part.ok ? "✓" : "✕"} <b>{part.name}</b> {part.ok ? "works" : "fails"}
                {part.text && `: ${part.text}`}
              </li>
            ))}
          </ul>
          {health.space && <p class="small">{spaceWords(health.space)}</p>}
        </>
      )}
    </section>
  );
}

function spaceWords(space: NonNullable<Health["space"]>): string {
  const size = (bytes: number): string => (bytes < 1e9 ? `${(bytes / 1e6).toFixed(1)} MB` : `${(bytes / 1e9).toFixed(1)} GB`);
  const kept = `The log takes ${size(space.database_bytes)}, its seal ${size(space.seal_bytes)}; ${size(space.free_bytes)} are free.`;
  if (space.years_left === null) {
    return `${kept} How long that lasts is known after an hour.`;
  }
  const years = space.years_left > 100 ? "more than 100 years" : `${space.years_left.toFixed(space.years_left < 10 ? 1 : 0)} years`;
  return `${kept} At ${size(space.bytes_per_day)} a day that is enough for ${years}. Nothing is ever removed.`;
}

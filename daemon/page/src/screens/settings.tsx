// What this phone shows, how the daemon is, and the cautions.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type Channel, getChannels, getHealth, type Health, Refusal, type Site, testChannel } from "../data/api";
import { languages, longest_who, type Phone } from "../data/phone";
import { useAnswer } from "../parts/asked";
import { Back, Caution, Choice, Title, useNow } from "../parts/parts";
import { setPhone } from "../data/store";
import { isKey } from "../words/tables";
import { type PlainKey, type Words } from "../words/words";

const cautions = ["advice", "heat", "solvent", "systems"] as const;

export function SettingsScreen({ shop, phone, words }: { shop: Site; phone: Phone; words: Words }): JSX.Element {
  // Exact optional properties: what follows the shop is left out, not undefined.
  const choose = <Name extends "temperature_unit" | "language">(name: Name, value: Site[Name] | "shop"): void => {
    const { [name]: _, ...others } = phone;
    setPhone(value === "shop" ? (others as Phone) : { ...phone, [name]: value });
  };
  return (
    <>
      <Back to="#/">{words.say("page.board")}</Back>
      <Title words={words}>{words.say("settings.settings")}</Title>
      <section aria-labelledby="phone">
        <h3 id="phone">{words.say("settings.phone")}</h3>
        <Choice
          label={words.say("settings.temperatures")}
          options={[
            { value: "shop" as const, text: words.say("settings.as-the-shop", { value: `°${shop.temperature_unit}` }) },
            { value: "C" as const, text: "°C" },
            { value: "F" as const, text: "°F" },
          ]}
          value={phone.temperature_unit ?? "shop"}
          onChoose={(value) => choose("temperature_unit", value)}
        />
        <Choice
          label={words.say("settings.language")}
          options={[
            { value: "shop" as const, text: words.say("settings.as-the-shop", { value: words.say(`settings.language-${shop.language}`) }) },
            ...languages.map((value) => ({ value, text: words.say(`settings.language-${value}`) })),
          ]}
          value={phone.language ?? "shop"}
          onChoose={(value) => choose("language", value)}
        />
        <label class="field">
          <span>{words.say("settings.who")}</span>
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
          <small id="who">{words.say("settings.who-hint")}</small>
        </label>
        <p class="small">{words.say("settings.times", { zone: words.timeZone() })}</p>
        <dl class="figures">
          <div>
            <dt>{words.say("settings.address")}</dt>
            <dd class="address">{location.origin}</dd>
          </div>
        </dl>
        <p class="small">{words.say("settings.pair")}</p>
      </section>
      <AlertChannels words={words} />
      <section aria-labelledby="measuring">
        <h3 id="measuring">{words.say("settings.measured")}</h3>
        <div class="actions">
          <a class="button" href="#/sensors">
            {words.say("sensors.sensors")}
          </a>
          <a class="button" href="#/coupon">
            {words.say("settings.test-plates")}
          </a>
          <a class="button" href="#/learned">
            {words.say("learned.title")}
          </a>
          <a class="button" href="#/plate">
            {words.say("plate.title")}
          </a>
        </div>
      </section>
      <DaemonHealth words={words} />
      <section aria-labelledby="cautions">
        <h3 id="cautions">{words.say("settings.cautions")}</h3>
        {cautions.map((name) => (
          <Caution key={name}>{words.say(`cautions.${name}`)}</Caution>
        ))}
      </section>
    </>
  );
}

// A way that the shop named, and what goes there.
function channelWords({ kind, least }: Channel, words: Words): string {
  const key = `settings.channel-${kind}`;
  const way = isKey(key) ? words.say(key as PlainKey) : kind;
  return kind === "mqtt" ? way : words.about(way, words.say(`settings.least-${least}`));
}

const nameOf = ({ name }: Channel): string => (name === "mqtt" ? "MQTT" : name);

function quietWords(quiet: string, words: Words): string {
  const [from = "", to = ""] = quiet.split("-");
  return quiet === "" ? words.say("settings.no-quiet") : words.say("settings.quiet", { from: words.clockTime(from), to: words.clockTime(to) });
}

// Where alerts go besides this page, and whether they would arrive.
function AlertChannels({ words }: { words: Words }): JSX.Element {
  const { answer: known } = useAnswer(getChannels, []);
  const [said, setSaid] = useState<Record<string, string>>({});
  const test = (name: string): void => {
    const say = (text: string): void => setSaid((before) => ({ ...before, [name]: text }));
    say(words.say("settings.sending"));
    testChannel(name)
      .then(({ delivered, why }) => say(delivered ? words.say("settings.delivered") : words.say("settings.not-delivered", { why })))
      .catch((error: unknown) => say(words.say("settings.not-sent", { why: error instanceof Refusal ? error.message : words.say("page.no-answer") })));
  };
  return (
    <section aria-labelledby="channels">
      <h3 id="channels">{words.say("settings.channels")}</h3>
      {known && (
        <>
          <ul class="plain">
            {known.channels.map((channel) => (
              <li key={channel.name}>
                <b>{nameOf(channel)}</b> {channelWords(channel, words)}
                <p class="actions">
                  <button type="button" onClick={() => test(channel.name)}>
                    {words.say("settings.send-test", { channel: nameOf(channel) })}
                  </button>
                </p>
                <p role="status">{said[channel.name] ?? ""}</p>
              </li>
            ))}
          </ul>
          {known.channels.length === 1 && <p class="small">{words.say("settings.no-channel")}</p>}
          <p class="small">
            {quietWords(known.quiet, words)}
          </p>
        </>
      )}
    </section>
  );
}

function DaemonHealth({ words }: { words: Words }): JSX.Element {
  const now = useNow();
  const minute = Math.floor(now.getTime() / 60_000);
  const { answer: health, failed } = useAnswer(getHealth, [minute]);
  return (
    <section aria-labelledby="daemon">
      <h3 id="daemon">{words.say("settings.daemon")}</h3>
      {failed && <p class="old">{words.say("page.no-answer")}</p>}
      {health && !failed && (
        <>
          <p>
            <b>{words.say(health.ok ? "settings.all-well" : "settings.part-fails")}</b>{" "}
            {words.say("settings.version", { version: health.version, when: words.when(health.started, now) })}
          </p>
          <ul class="plain">
            {health.parts.map((part) => (
              <li key={part.name}>
                {words.say(part.ok ? "settings.works" : "settings.fails", { part: partWords(part.name, words) })}
                <small> {words.fact(part.what)}</small>
              </li>
            ))}
          </ul>
          {health.space && <p class="small">{spaceWords(health.space, words)}</p>}
        </>
      )}
    </section>
  );
}

function partWords(name: string, words: Words): string {
  const key = `settings.part-${name}`;
  return isKey(key) ? words.say(key as PlainKey) : name;
}

function sizeWords(bytes: number, words: Words): string {
  return bytes < 1e9 ? words.say("units.storage", { n: words.fixed(bytes / 1e6, 1) }) : words.say("settings.gigabytes", { n: words.fixed(bytes / 1e9, 1) });
}

function spaceWords(space: NonNullable<Health["space"]>, words: Words): string {
  const size = (bytes: number): string => sizeWords(bytes, words);
  const kept = words.say("settings.space", { log: size(space.database_bytes), seal: size(space.seal_bytes), free: size(space.free_bytes) });
  const years = space.years_left;
  const a_day = size(space.bytes_per_day);
  const lasts =
    years === null
      ? words.say("settings.lasts-unknown")
      : years > 100
        ? words.say("settings.lasts-long", { a_day })
        : words.say("settings.lasts", { a_day, years: words.fixed(years, years < 10 ? 1 : 0) });
  return `${kept} ${lasts}`;
}

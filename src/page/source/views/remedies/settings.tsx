import type { JSX } from "preact";
import type { CaseDocument } from "../../case/document";
import { Amount } from "../../parts/amount";
import { Pick } from "../../parts/pick";
import { change, job, readonly } from "../../store/job";
import type { RemediesAnswer } from "./answers";
import { type Costs, costsOf, currencyOf, statesMoney, withCosts, withCurrency } from "./offers";

const currencies =
  "EUR GBP USD CAD AUD NZD CHF SEK NOK DKK ISK PLN CZK HUF RON BGN TRY JPY CNY INR KRW BRL MXN ARS CLP ZAR".split(" ");

function currencyOptions(document: CaseDocument): { id: string; name: string }[] {
  const now = currencyOf(document);
  const list = currencies.includes(now) || now === "" ? currencies : [now, ...currencies];
  const options = list.map((code) => ({ id: code, name: code }));
  return statesMoney(document) ? options : [{ id: "", name: "none: count in minutes of work" }, ...options];
}

// Shown an hour, kept a minute, without digits that nobody entered.
const anHour = (perMinute: number): number => Math.round(perMinute * 6000) / 100;
const aMinute = (perHour: number): number => Math.round((perHour / 60) * 1e6) / 1e6;

interface Setting {
  key: keyof Costs;
  label: string;
  unit: string;
  value: number;
  step: number;
  min: number;
  max: number;
  kept?: (shown: number) => number;
}

function settingsOf(answer: RemediesAnswer, document: CaseDocument): Setting[] {
  const costs = costsOf(document);
  const currency = currencyOf(document);
  const horizon: Setting = {
    key: "horizon_years", label: "Look ahead", unit: "years", value: costs.horizon_years ?? answer.horizon_years,
    step: 1, min: 1, max: 50,
  };
  if (currency === "") return [horizon];
  return [
    horizon,
    {
      key: "per_minute", label: "Work costs", unit: `${currency} an hour`, value: anHour(costs.per_minute ?? answer.per_minute),
      step: 5, min: 0.06, max: 6e7, kept: aMinute,
    },
    {
      key: "stop", label: "A stop on the road costs", unit: currency, value: costs.stop ?? answer.stop,
      step: 100, min: 0, max: 1e9,
    },
    {
      key: "discount_percent", label: "Later costs count less by", unit: "% a year", value: costs.discount_percent ?? 0,
      step: 1, min: 0, max: 30,
    },
  ];
}

/** What money and time are worth to the owner; what nobody stated is taken from the model and says so. */
export function Settings({ answer, document }: { answer: RemediesAnswer; document: CaseDocument }): JSX.Element {
  const stated = costsOf(document);
  const list = settingsOf(answer, document);
  const assumed = list.filter((one) => stated[one.key] === undefined && one.key !== "discount_percent");
  const summary = list
    .filter((one) => one.key !== "discount_percent" || one.value > 0)
    .map((one) => `${one.label.toLowerCase()} ${one.value} ${one.unit}`)
    .join("; ");
  return (
    <details class="remedies-settings">
      <summary>
        Counted with: {summary}
        {assumed.length > 0 && " (partly assumed)"}
      </summary>
      <div class="remedies-fields">
        <Pick
          label="Currency"
          options={currencyOptions(document)}
          value={currencyOf(document)}
          disabled={readonly.value}
          onChange={(code: string) => void change("Currency", (now) => withCurrency(now, code))}
        />
        {list.map((one) => (
          <SettingField key={`${job.value?.id}-${one.key}`} one={one} />
        ))}
      </div>
      {currencyOf(document) === "" && <p>Costs are counted in minutes of work until a currency is chosen.</p>}
      {assumed.length > 0 && (
        <p class="remedies-note">
          Not stated yet, taken from the model: {assumed.map((one) => one.label.toLowerCase()).join("; ")}. A value that you
          enter here replaces it; an emptied field is not stated.
        </p>
      )}
    </details>
  );
}

function SettingField({ one }: { one: Setting }): JSX.Element {
  function put(value: number | null): void {
    // An emptied field is no longer stated: the model's value holds again.
    const kept = value === null ? undefined : one.kept ? one.kept(value) : value;
    void change(one.label, (now) => withCosts(now, { [one.key]: kept }));
  }
  return (
    <Amount
      label={one.label}
      unit={one.unit}
      value={one.value}
      step={one.step}
      min={one.min}
      max={one.max}
      disabled={readonly.value}
      onChange={put}
    />
  );
}

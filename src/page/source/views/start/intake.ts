/** The few questions with which a new case begins; what is not answered becomes an assumption of the case. */

import { ask } from "../../engine/ask";
import { today } from "../../parts/dates";
import { newJob } from "../../store/job";
import { caseFileName } from "../../store/files";

export interface Intake {
  template: string;
  built: string;
  region: string;
  climate: string;
  odometer_km: number | undefined;
  parking: string;
  duty: string;
  inspected: string;
  title: string;
}

export const emptyIntake = (): Intake => ({
  template: "", built: "", region: "", climate: "", odometer_km: undefined, parking: "", duty: "", inspected: today(), title: "",
});

/** What is still needed, in words; empty: nothing. */
export function missing(intake: Intake): string {
  if (!intake.template) return "Choose a layout.";
  if (!intake.built) return "Enter when the vehicle was built; the year is enough.";
  if (!intake.inspected) return "Enter the day of the inspection.";
  return "";
}

/** The engine writes the case; it rejects with what is wrong. */
export async function startCase(intake: Intake): Promise<void> {
  const { title, ...answers } = intake;
  const known = Object.fromEntries(Object.entries(answers).filter(([, value]) => value !== "" && value !== undefined));
  const { case: text } = await ask<{ case: string }>({ ask: "start", intake: known });
  const named = title.trim() === "" ? text : JSON.stringify({ ...(JSON.parse(text) as object), title: title.trim() }, null, 2) + "\n";
  await newJob(caseFileName(title.trim() || `${intake.template}-${intake.built}`), named);
}

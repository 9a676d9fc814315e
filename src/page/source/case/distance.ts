/** Kilometres and miles. */

export type DistanceUnit = "km" | "mi";

const kilometresOfMile = 1.609344; // international mile, exact since 1959

/** Kept to the metre, so that what was read in miles is shown again as it was read. */
export const toKilometres = (distance: number, unit: DistanceUnit): number =>
  unit === "km" ? distance : Math.round(distance * kilometresOfMile * 1000) / 1000;

export const fromKilometres = (km: number, unit: DistanceUnit): number =>
  unit === "km" ? km : Math.round((km / kilometresOfMile) * 10) / 10;

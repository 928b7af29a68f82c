/** A plate, or the key of the airframe file whose number allows none. */
import type { AirframePlate } from "../model.ts";

export type Built =
  | { readonly name: string; readonly plate: AirframePlate; readonly failed?: undefined }
  | { readonly name: string; readonly plate?: undefined; readonly failed: string };

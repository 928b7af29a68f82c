/**
 * What a person has to see to before the first program: people first, then the machine, then the sheet.
 *
 * None of the published dust limits is specific to carbon-fibre dust, so no level is called safe here: the
 * figures are given with their sources and local rules come first. Sources of the figures: 29 CFR 1910.1000
 * Table Z-1 and 29 CFR 1910.134 Table 1 (US OSHA); ACGIH guideline for particles; COSHH/EH40 (UK); TRGS 900
 * (Germany); IEC 60335-2-69 (dust classes of vacuum cleaners). FFP factors: HSE HSG53, from memory.
 */
import type { UnprovenPlan } from "../job/plan-json.ts";

export interface CautionGroup {
  readonly id: string;
  readonly title: string;
  readonly items: readonly string[];
}

export function cautions(plan: UnprovenPlan): CautionGroup[] {
  const materials = new Set(plan.sheets.map((s) => s.material));
  const glass = materials.has("glass-epoxy");
  const carbon = materials.size > (glass ? 1 : 0);
  return [rules(), dust(carbon, glass), body(), electronics(carbon, glass), fire()];
}

function rules(): CautionGroup {
  return {
    id: "rules",
    title: "Rules first",
    items: [
      "Local rules, the workshop's rules and the machine's own manual come before anything on this sheet.",
      "Whoever runs the machine has been trained on it and is allowed to; where a licence or permit is needed, it is there.",
      "The stop button is in reach and has been tried. Somebody stays with the machine while it runs.",
    ],
  };
}

function dust(carbon: boolean, glass: boolean): CautionGroup {
  const items = [
    "Extraction runs at the cutter, through a vacuum of dust class M or H (IEC 60335-2-69: over 99.9 % and over 99.995 % held back).",
    "Everybody in the room wears a fitted respirator, FFP3 or P100, as a back-up to extraction and not instead of it. It stays on for cleaning up.",
    "Clean by vacuum or by wet wiping. No sweeping, no compressed air. Water binds dust, but what dries is dust again.",
    "Never collect this dust together with metal sparks or wood dust.",
  ];
  if (carbon) {
    items.push(
      "Cut carbon sheds pieces small enough to reach the lungs, though the fibre itself is thicker than that.",
      "No limit in law is specific to carbon-fibre dust. General dust limits over 8 h, mg/m³: US 15 total and 5 respirable " +
        "(29 CFR 1910.1000 Table Z-1); ACGIH guideline 10 inhalable and 3 respirable; UK dust counts as hazardous at " +
        "10 inhalable or 4 respirable (COSHH/EH40); Germany 10 inhalable and 1.25 respirable (TRGS 900). " +
        "Staying under them does not show that the air is harmless: keep the dust as low as you can.",
    );
  }
  if (glass) items.push("Glass dust scratches: keep it off skin, eyes, guides and bearings.");
  return { id: "dust", title: "Dust", items };
}

function body(): CautionGroup {
  return {
    id: "body",
    title: "Eyes and hands",
    items: [
      "Safety glasses with closed sides are on, for everybody who can see the cutter.",
      "Nothing loose near the spindle: no gloves, sleeves, hair or strings while it turns.",
      "Cut edges and broken tabs splinter: gloves for handling plates once the spindle stands still. Wash before eating; change clothes.",
    ],
  };
}

function electronics(carbon: boolean, glass: boolean): CautionGroup {
  const items = carbon
    ? [
        "Carbon dust conducts: control box, motor drives and computer are sealed, or stand out of the dust.",
        "Wet carbon sludge conducts too: none near plugs, drives or battery leads.",
      ]
    : [];
  if (glass)
    items.push("Glass dust does not conduct, but it wears: covers of guides and screws are shut.");
  return { id: "electronics", title: "Electronics", items };
}

function fire(): CautionGroup {
  return {
    id: "fire",
    title: "Fire",
    items: [
      "Fine dust can burn: no flame, no grinding, no hot metal near the machine or the vacuum.",
      "An extinguisher fit for electrical equipment is in reach. Look into the vacuum's bag half an hour after the end.",
    ],
  };
}

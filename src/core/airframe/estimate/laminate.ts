/**
 * Stiffness of a laminate in its plane, in any direction: plies' stiffness turned, averaged over the thickness,
 * inverted (Jones, Mechanics of Composite Materials, ch. 2 and 4). GPa, rad.
 *
 * Limit: in-plane moduli stand for bending too, which holds for cloth laid evenly through the thickness.
 */
import type { MaterialName } from "../../cutting/cutter.ts";
import { cos, sin } from "../../geometry/trig.ts";

export interface Ply {
  readonly e1: number;
  readonly e2: number;
  readonly g12: number;
  readonly nu12: number;
}

export interface Laid {
  readonly ply: Ply;
  /** Direction of the ply's first axis. */
  readonly angle: number;
}

export interface Elastic {
  /** Along X. */
  readonly e: number;
  readonly nu: number;
  readonly g: number;
}

/** Moduli of plies of one thickness, along X. */
export function laminate(plies: readonly Laid[]): Elastic {
  const n = plies.length;
  const sum = [0, 0, 0, 0, 0, 0];
  for (const p of plies) for (const [i, q] of turned(p).entries()) sum[i] = (sum[i] ?? 0) + q / n;
  return inverted(sum as Stiffness);
}

/** Q11, Q12, Q22, Q16, Q26, Q66. */
type Stiffness = [number, number, number, number, number, number];

function turned({ ply, angle }: Laid): Stiffness {
  const nu21 = (ply.nu12 * ply.e2) / ply.e1;
  const k = 1 - ply.nu12 * nu21;
  const [q11, q22, q12, q66] = [ply.e1 / k, ply.e2 / k, (ply.nu12 * ply.e2) / k, ply.g12];
  const c = cos(angle);
  const s = sin(angle);
  const [c2, s2] = [c * c, s * s];
  const c4s4 = c2 * c2 + s2 * s2;
  const a = q11 - q12 - 2 * q66;
  const b = q12 - q22 + 2 * q66;
  return [
    q11 * c2 * c2 + 2 * (q12 + 2 * q66) * s2 * c2 + q22 * s2 * s2,
    (q11 + q22 - 4 * q66) * s2 * c2 + q12 * c4s4,
    q11 * s2 * s2 + 2 * (q12 + 2 * q66) * s2 * c2 + q22 * c2 * c2,
    a * s * c * c2 + b * s * c * s2,
    a * s * c * s2 + b * s * c * c2,
    (q11 + q22 - 2 * q12 - 2 * q66) * s2 * c2 + q66 * c4s4,
  ];
}

/** First row and last entry of the compliance. */
function inverted([q11, q12, q22, q16, q26, q66]: Stiffness): Elastic {
  const minor = q22 * q66 - q26 * q26;
  const det = q11 * minor - q12 * (q12 * q66 - q26 * q16) + q16 * (q12 * q26 - q22 * q16);
  const s11 = minor / det;
  const s12 = -(q12 * q66 - q16 * q26) / det;
  const s66 = (q11 * q22 - q12 * q12) / det;
  return { e: 1 / s11, nu: -s12 / s11, g: 1 / s66 };
}

/** Balanced cloth, 50 % fibre: published property table of standard carbon fabric. */
export const CARBON_CLOTH: Ply = { e1: 70, e2: 70, g12: 5, nu12: 0.1 };
/** FR-4 glass cloth laminate: from memory, 60 % sure; no source. */
export const GLASS_CLOTH: Ply = { e1: 22, e2: 22, g12: 5, nu12: 0.12 };

/** Modulus along a direction that lies `off` from the sheet's fibre, GPa. */
export function modulus(material: MaterialName, off: number): number {
  return laminate(layup(material).map((p) => ({ ...p, angle: p.angle - off }))).e;
}

function layup(material: MaterialName): Laid[] {
  if (material === "glass-epoxy") return [{ ply: GLASS_CLOTH, angle: 0 }];
  const along = { ply: CARBON_CLOTH, angle: 0 };
  if (material === "carbon-woven") return [along];
  return [along, { ply: CARBON_CLOTH, angle: Math.PI / 4 }];
}

export const LAMINATE_SOURCE =
  "plies' stiffness turned and averaged (Jones, Mechanics of Composite Materials, ch. 2, 4); carbon cloth E 70 GPa, G 5 GPa, ν 0.10 (published table)";

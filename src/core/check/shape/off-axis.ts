/**
 * Stiffness of a laminate off its fibres: 1/Ex = c⁴/E1 + s⁴/E2 + (1/G12 − 2 ν12/E1) s²c² (Jones, Mechanics of
 * Composite Materials, ch. 2). GPa, rad.
 */
import { cos, sin } from "../../geometry/trig.ts";

export interface Laminate {
  readonly e1: number;
  readonly e2: number;
  readonly g12: number;
  readonly nu12: number;
}

/** Standard carbon fabric at 50 % fibre, published property table; 0 and 90° are alike. */
export const WOVEN: Laminate = { e1: 70, e2: 70, g12: 5, nu12: 0.1 };

export function modulusAt({ e1, e2, g12, nu12 }: Laminate, angle: number): number {
  const c2 = cos(angle) ** 2;
  const s2 = sin(angle) ** 2;
  return 1 / ((c2 * c2) / e1 + (s2 * s2) / e2 + (1 / g12 - (2 * nu12) / e1) * s2 * c2);
}

export function shearModulusAt({ e1, e2, g12, nu12 }: Laminate, angle: number): number {
  const c2 = cos(angle) ** 2;
  const s2 = sin(angle) ** 2;
  const across = 2 * (2 / e1 + 2 / e2 + (4 * nu12) / e1 - 1 / g12) * s2 * c2;
  return 1 / (across + (s2 * s2 + c2 * c2) / g12);
}

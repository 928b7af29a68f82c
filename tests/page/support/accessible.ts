/** Faults of accessibility, found by axe-core: WCAG 2.2 A and AA, and its best practices. */

import axe from "axe-core";
import type { Page } from "playwright-core";

/**
 * What axe calls serious or critical, one line each. Its script is run by the driver and not put into the page, which
 * a content security policy would refuse.
 */
export async function seriousFaults(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const violations = await page.evaluate(async () => {
    const found = await (globalThis as unknown as { axe: typeof axe }).axe.run(document, {
      resultTypes: ["violations"],
    });
    return found.violations.map((v) => ({
      id: v.id,
      impact: v.impact ?? "",
      help: v.help,
      where: v.nodes.map((n) => n.target.join(" ")),
    }));
  });
  return violations
    .filter((v) => v.impact === "serious" || v.impact === "critical")
    .map((v) => `${v.id}: ${v.help}: ${v.where.slice(0, 5).join(", ")}`);
}

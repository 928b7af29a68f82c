/** docs/CHECKS.md, written from the registry: what is asked, why, and where each limit is from. */
import { sayCheck } from "../finding/say-check.ts";
import { RULE_GROUPS, RULES } from "./registry.ts";
import type { Rule } from "./rule.ts";

export function checksMarkdown(): string {
  const parts = RULE_GROUPS.map(
    ({ title, rules }) => `## ${title}\n\n${rules.map(ruleText).join("\n")}`,
  );
  return `${HEAD}\n${parts.join("\n")}`;
}

const HEAD = `# Checks

What \`weftcut check\` and \`weftcut plan\` ask of a job before anything is cut: ${RULES.length} rules. This page is
written from the rules themselves (\`npx vitest run tests/check/docs.test.ts --update\`).

Every finding says what was found, what is wanted, where, and a way out. \`stop\`: no program is written; \`warn\`:
look before you cut; \`note\`: good to know. A job may change a rule's weight, with a reason that is then printed:

    checks:
      - { code: web-between-thin, severity: note, reason: "a test piece", plate: arm }

Limits are met by what lies exactly on them. Where there is no published source it says so.
`;

function ruleText(rule: Rule): string {
  const limits = rule.limits.map((l) => `- ${l.what}: ${l.value}. *${l.source}.*`);
  const { severity } = sayCheck[rule.code];
  return `### ${rule.code} (${severity})\n\n${rule.asks} ${rule.reason}\n\n${limits.join("\n")}\n`;
}

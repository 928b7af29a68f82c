/** `weftcut rates --material M --cutter FILE|DIAMETER --machine FILE` */
import type { Cutter, RateMaterial } from "../../core/cutting/cutter.ts";
import { chooseRates } from "../../core/cutting/rates.ts";
import { ratesJson, ratesText } from "../../core/cutting/rates-text.ts";
import { type Finding, stops } from "../../core/finding/finding.ts";
import * as defaults from "../../core/job/defaults.ts";
import { parseCutter } from "../../core/job/parse.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { printFindings } from "../print-findings.ts";
import { readText, typedFiles } from "../read-file.ts";
import { readMachine } from "../read-profile.ts";

export interface RatesOptions {
  readonly material: RateMaterial;
  readonly cutter: string;
  readonly machine: string;
  readonly thickness: number;
  readonly passDepth?: number;
  readonly json?: boolean;
}

export function rates(io: Io, options: RatesOptions): ExitCode {
  const profile = readMachine(options.machine);
  const tool = readCutter(options.cutter);
  const findings: Finding[] = [...profile.findings, ...tool.findings];
  const unreadable = profile.unreadable || tool.unreadable;
  if (profile.machine === undefined || tool.cutter === undefined) {
    if (options.json === true) printJson(io, { findings });
    else printFindings(io, findings, typedFiles);
    return unreadable ? EXIT.usage : EXIT.stopped;
  }
  const { material } = options;
  const { cutter } = tool;
  const chosen = chooseRates({
    material,
    cutter,
    machine: profile.machine,
    thickness: options.thickness,
    throughDepth: defaults.THROUGH_DEPTH,
    passDepth: options.passDepth,
    finishStock: defaults.FINISH_STOCK,
    rampDeg: defaults.RAMP_DEG,
  });
  findings.push(...chosen.findings);
  const stopped = stops(findings);
  if (options.json === true) {
    printJson(io, { ...ratesJson(material, cutter, chosen.value), findings });
  } else {
    printFindings(io, findings, typedFiles);
    if (!stopped) io.out(ratesText(material, cutter, chosen.value));
  }
  return stopped ? EXIT.stopped : EXIT.done;
}

interface ReadCutter {
  readonly cutter: Cutter | undefined;
  readonly findings: readonly Finding[];
  readonly unreadable: boolean;
}

/** A number is a diameter; anything else is a file. */
function readCutter(named: string): ReadCutter {
  const diameter = Number(named);
  if (named.trim() !== "" && Number.isFinite(diameter)) {
    return { cutter: defaults.cutterOfDiameter(diameter), findings: [], unreadable: false };
  }
  const text = readText(named);
  if (typeof text !== "string") return { cutter: undefined, findings: [text], unreadable: true };
  const { value, findings } = parseCutter({ name: named, text });
  return { cutter: value, findings, unreadable: false };
}

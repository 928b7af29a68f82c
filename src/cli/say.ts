/** What the command line says of files and folders. Sentences of the work itself are in core/finding. */
import { type Entry, type Report, reporter } from "../core/finding/finding.ts";

type Said = {
  readonly "file-missing": { readonly file: string };
  readonly "file-is-folder": { readonly file: string };
  readonly "file-unreadable": { readonly file: string; readonly why: string };
  readonly "out-is-file": { readonly dir: string };
  readonly "out-not-ours": { readonly dir: string; readonly holds: string };
  readonly "out-unwritable": { readonly dir: string; readonly why: string };
  readonly "file-in-the-way": { readonly file: string };
  readonly "file-unwritable": { readonly file: string; readonly why: string };
  readonly "folder-without-drawings": { readonly dir: string };
  readonly "picture-of-several": { readonly files: number };
  readonly "program-for-what": { readonly file: string };
  readonly "program-taken-along": { readonly file: string; readonly sheet: string };
  readonly "program-not-beside": { readonly file: string; readonly sheet: string };
  readonly "coupon-wants": Record<never, never>;
  readonly "restart-wants": Record<never, never>;
  readonly "page-not-built": { readonly why: string };
  readonly "port-in-use": { readonly port: number };
  readonly "port-refused": { readonly port: number; readonly why: string };
};

const sayCli: { readonly [Code in keyof Said]: Entry<Said[Code]> } = {
  "file-missing": {
    severity: "stop",
    message: (d) => `there is no file "${d.file}"`,
    hint: () => "Check the name and the folder that you are in.",
  },
  "file-is-folder": {
    severity: "stop",
    message: (d) => `"${d.file}" is a folder; a file is needed`,
    hint: () => "Name the file in it.",
  },
  "file-unreadable": {
    severity: "stop",
    message: (d) => `"${d.file}" cannot be read: ${d.why}`,
  },
  "out-is-file": {
    severity: "stop",
    message: (d) => `"${d.dir}" is a file; a folder is needed to write into`,
    hint: () => "Name another folder after --out.",
  },
  "out-not-ours": {
    severity: "stop",
    message: (d) =>
      `"${d.dir}" holds files that are not weftcut's (${d.holds}); nothing was written`,
    hint: () => "Name another folder, or say --force to write beside them.",
  },
  "out-unwritable": {
    severity: "stop",
    message: (d) => `cannot write into "${d.dir}": ${d.why}`,
  },
  "file-in-the-way": {
    severity: "stop",
    message: (d) => `"${d.file}" is there already; nothing was written`,
    hint: () => "Name another, or say --force to replace it.",
  },
  "file-unwritable": {
    severity: "stop",
    message: (d) => `cannot write "${d.file}": ${d.why}`,
  },
  "folder-without-drawings": {
    severity: "stop",
    message: (d) => `there is no .dxf and no .svg in the folder "${d.dir}"`,
  },
  "picture-of-several": {
    severity: "stop",
    message: (d) => `--picture draws one drawing, and ${d.files} were named`,
    hint: () => "Name one drawing.",
  },
  "program-for-what": {
    severity: "stop",
    message: (d) => `"${d.file}" does not say which of the plan's sheets and cutters it is for`,
    hint: () => "Say --sheet NAME and --cutter NAME.",
  },
  "program-taken-along": {
    severity: "note",
    message: (d) => `"${d.file}" was not given; it is taken along, since it cuts "${d.sheet}" too`,
  },
  "program-not-beside": {
    severity: "warn",
    message: (d) => `"${d.file}" cuts "${d.sheet}" too, but was neither given nor found`,
    hint: () => "Give all programs of a sheet.",
  },
  "coupon-wants": {
    severity: "stop",
    message: () => "a coupon wants a job and --out DIR, or --measured FILE",
    hint: () => "weftcut coupon my-job/job.yaml --out my-job/coupon",
  },
  "restart-wants": {
    severity: "stop",
    message: () => "a restart wants either --line N or --plate NAME",
    hint: () => "The line that the controller showed; the plate, where no line is known.",
  },
  "page-not-built": {
    severity: "stop",
    message: (d) => `the page is not built here: ${d.why}`,
    hint: () => "In a clone, `npm ci` brings what builds it; `npm run build` builds it.",
  },
  "port-in-use": {
    severity: "stop",
    message: (d) => `port ${d.port} is in use, perhaps by another weftcut`,
    hint: () => "Open that one, or name another with --port; --port 0 takes any that is free.",
  },
  "port-refused": {
    severity: "stop",
    message: (d) => `port ${d.port} cannot be listened on: ${d.why}`,
    hint: () => "Name another with --port, above 1023.",
  },
};

export const say: Report<typeof sayCli> = reporter(sayCli);

#!/usr/bin/env node
/** What the package's command runs. Compiled to CommonJS, where `__dirname` is. */
import { loadPart } from "./load.ts";
import { tuneTiers } from "./tier.ts";

tuneTiers();
loadPart(__dirname, "weftcut.js");

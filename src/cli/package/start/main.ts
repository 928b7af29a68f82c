#!/usr/bin/env node
/** What the package's command runs. Compiled to CommonJS, where `__dirname` is. */
import { loadPart } from "./load.ts";
import { tuneV8 } from "./tier.ts";

tuneV8();
loadPart(__dirname, "weftcut.js");

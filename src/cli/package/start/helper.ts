/** What the package's second thread runs. Compiled to CommonJS, where `__dirname` is. */
import { loadPart } from "./load.ts";

loadPart(__dirname, "errands.js");

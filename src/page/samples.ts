/** Files that ride along in the page, as texts by name. */
export interface Samples {
  readonly demo: Readonly<Record<string, string>>;
  readonly airframes: Readonly<Record<string, string>>;
  /** Machine profiles that the airframes name. */
  readonly machines: Readonly<Record<string, string>>;
}

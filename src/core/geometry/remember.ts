/**
 * What has been worked out about a value once, kept with that value.
 *
 * Only for pure functions of values that never change: then nothing but time tells whether something was
 * remembered. What is kept goes when the value goes. So stages that ask the same of the same plate pay
 * once, and a plan made again after one change of the job pays for what has changed.
 */
export function remembering<K extends object, V>(): (
  of: K,
  key: string | number,
  make: () => V,
) => V {
  const known = new WeakMap<K, Map<string | number, V>>();
  return (of, key, make) => {
    let own = known.get(of);
    if (own === undefined) {
      own = new Map();
      known.set(of, own);
    }
    // A value of `undefined` is worked out again; none of the askers has one.
    let value = own.get(key);
    if (value === undefined) {
      value = make();
      own.set(key, value);
    }
    return value;
  };
}

/** Made when it is first asked for, and kept. */
export function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

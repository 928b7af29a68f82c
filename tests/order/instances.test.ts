/** What the bench of ordering stands on: its readers, and the judge of its tours. The instances are made up. */
import { describe, expect, test } from "vitest";
import { parseInstance } from "../bench/order/instance.ts";
import { solve } from "../bench/order/solve.ts";
import { judge } from "../bench/order/validate.ts";

const SEQUENTIAL = `NAME: four.sop
TYPE: SOP
COMMENT: made up
DIMENSION: 4
EDGE_WEIGHT_TYPE: EXPLICIT
EDGE_WEIGHT_FORMAT: FULL_MATRIX
EDGE_WEIGHT_SECTION
4
 0  1  9 1000000
-1  0  3  1
-1 -1  0  5
-1 -1 -1  0
EOF
`;

/** Groups a (the start), b with two nodes, c; b comes before c. */
const GROUPS = `NAME : three.pcglns
TYPE : PCGLNS
COMMENT : made up
DIMENSION : 4
GTSP_SETS : 3
EDGE_WEIGHT_TYPE : EXPLICIT
EDGE_WEIGHT_FORMAT : FULL_MATRIX
EDGE_WEIGHT_SECTION
0 2 8 1
4 0 0 9
4 0 0 1
3 -1 -1 0
GTSP_SET_SECTION
1 1 -1
2 2 3 -1
3 4 -1
GTSP_SET_ORDERING
2 3 -1
START_GROUP_SECTION
1
EOF
`;

const sop = parseInstance("four.sop", SEQUENTIAL);
const groups = parseInstance("three.pcglns", GROUPS);

describe("read", () => {
  test("a sequential ordering, its size said once more before the costs", () => {
    expect(sop.costs).toEqual([
      [0, 1, 9, 1000000],
      [-1, 0, 3, 1],
      [-1, -1, 0, 5],
      [-1, -1, -1, 0],
    ]);
    expect(sop.before).toEqual([
      [0, 1],
      [0, 2],
      [1, 2],
      [0, 3],
      [1, 3],
      [2, 3],
    ]);
    expect(sop.closed).toBe(false);
  });

  test("a generalised problem", () => {
    expect(groups.groups).toEqual([[0], [1, 2], [3]]);
    expect(groups.before).toEqual([[1, 2]]);
    expect(groups).toMatchObject({ startGroup: 0, closed: true });
  });

  test("costs that are not all there are told", () => {
    expect(() => parseInstance("cut.pcglns", GROUPS.replace("8 1\n", "8\n"))).toThrow("15 costs");
  });
});

describe("judged", () => {
  test("the cost of a tour, with the way home where there is one", () => {
    expect(judge(sop, [0, 1, 2, 3])).toEqual({ cost: 1 + 3 + 5, faults: [] });
    expect(judge(groups, [0, 1, 3])).toEqual({ cost: 2 + 9 + 3, faults: [] });
  });

  test("precedence, visits and start are looked at", () => {
    expect(judge(sop, [0, 2, 1, 3]).faults).toContain("group 3 is visited before group 2");
    expect(judge(sop, [0, 1, 3]).faults).toContain("group 3 is visited 0 times");
    expect(judge(groups, [0, 1, 2, 3]).faults).toContain("group 2 is visited 2 times");
    expect(judge(groups, [1, 3, 0]).faults).toContain("begins elsewhere than in group 1");
  });
});

describe("solved", () => {
  test("by the shortest tour", () => {
    expect(solve(sop, { steps: 1e5 })).toEqual([0, 1, 2, 3]);
    // By the dearer entry, which has the cheaper way on: 8 + 1 + 3.
    expect(solve(groups, { steps: 1e5 })).toEqual([0, 2, 3]);
  });
});

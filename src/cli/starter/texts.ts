/** The starter job and its machine profile, every line explained. */

export const JOB_YAML = `# A weftcut job: what to cut, from what, with what. Lengths in mm, angles in degrees.
# Check it with:  weftcut check job.yaml
# Plan it with:   weftcut plan job.yaml --out out

weftcut: 1                       # version of this file's form
name: bracket trial              # appears on the job sheet and in every program
machine: machine.yaml            # the router; a file beside this one

origin:
  at: lower-left                 # where on the sheet you set X0 Y0: lower-left, lower-right, upper-left, upper-right, centre
  z: sheet-top                   # where you set Z0: sheet-top, or spoilboard (the sheet's underside)

sheets:
  - name: carbon-2               # part of file names
    material: carbon-woven       # or carbon-quasi-isotropic, glass-epoxy
    thickness: 2                 # as bought
    # measuredThickness: 2.04    # as measured; used instead where given
    size: [200, 120]             # width along X, height along Y; or outline: FILE, a drawing of an offcut
    # layout: by-hand.dxf        # a layout of plan's that you changed in a drawing program, saved under this name
    fibreDeg: 0                  # direction of the fibre, counter-clockwise from X
    margin: 8                    # plates keep this far from the sheet's edge
    keepOut:                     # clamps and screws that nothing may touch
      - { at: [8, 8], diameter: 14 }          # a screw: centre and diameter
      - { from: [0, 106], to: [24, 120] }     # a clamp: opposite corners of a box
    price: 20                    # of the whole sheet, for the estimate

plates:
  - name: bracket
    drawing: bracket.dxf         # DXF or SVG beside this file
    sheet: carbon-2              # the sheet that it is cut from
    count: 2
    fibreDeg: 0                  # direction in the drawing that must lie along the fibre; without it the plate may turn
    gap: 6                       # room to the next plate: a cutter's width and some waste that stays stiff

cutters:
  - name: router-2               # part of file names
    kind: diamond-router         # or two-flute, compression, drill
    diameter: 2
    # measuredDiameter: 1.97     # width of a trial slot; used instead where given
    fluteLength: 8               # at least the sheet and the depth below it
    overhang: 14                 # from the collet to the tip; shorter bends less
    coating: none                # or dlc, diamond
    price: 9                     # for the estimate

cutting:
  tabs: { width: 4, height: 0.8, spacing: 140, least: 3 }   # bridges that hold each plate until the end
  throughDepth: 0.25             # below the sheet's underside, into the spoilboard
  finish: { stock: 0.1 }         # left for a last light pass at full depth
  direction: climb               # or conventional
  rampDeg: 3                     # how steeply the cutter goes down
  clearance: 6                   # height of rapids above the sheet: above every clamp and screw head
  hop: 1.5                       # the same over whole sheet, where no clamp lies between two cuts; 6: never lower

rates: { perHour: 30, currency: EUR }   # what an hour costs, for the estimate
`;

export const MACHINE_YAML = `# A router as weftcut needs to know it. Put in the figures of yours: a wrong one costs time or a cutter.
name: my router
travel: [300, 200, 60]           # how far X, Y, Z move, mm
maxFeed: [3000, 3000, 1000]      # fastest feed of X, Y, Z, mm/min
acceleration: [200, 200, 100]    # of X, Y, Z, mm/s2; used for the time estimate
junctionDeviation: 0.01          # how far corners are rounded, mm; used for the time estimate
spindle:
  min: 8000                      # slowest speed with enough torque to cut, rpm
  max: 24000                     # fastest, rpm
  powerW: 400                    # at the cutter
  spinUpS: 6                     # programs wait this long after starting it
  # sAtMax: 1000                 # only where S does not count rpm: what S is at max
  start: program                 # who starts it. By hand: hand-at-stop (programs wait at M0), or hand-in-dwell (for handS) where there is no M0
  handS: 30                      # with hand-in-dwell: time to switch it on, before it comes up to speed
decimals: 4                      # of coordinates
lineLength: 70                   # longest line that the controller takes, characters
dwell: seconds                   # what P of G4 counts: seconds or milliseconds. Wrong is a factor of 1000: look it up
comments: parentheses            # ( ... ), or semicolon, or none
repeatMotion: false              # true where the controller forgets G1 from line to line
workOffset: G54                  # to G59: where you set zero; or none where the controller has no such words
arcs: true                       # false where it has no G2 and G3
blocksPerSecond: 250             # lines a second that it keeps up with
programEnd: M2                   # the word that ends programs: M2, M30, or none. M30 deletes the file on some controllers
percentLines: false              # true where programs must stand between two lines of %
startLines: []                   # your own lines before everything else, such as ["M7"] for an extractor; none may move the machine,
endLines: []                     # and your own at the end, such as ["M9"]; nor turn the spindle, nor change units, modes or zero
`;

// Written by `python -m tests.golden.tables` from the core's own tables. Do not edit.

export const units = {
  MM_PER_INCH: "127/5",
  INCHES_PER: {"in":"1","ft":"12","thou":"1/1000","mm":"5/127","cm":"50/127","m":"5000/127"},
};

export const gauges = {
  GAUGE_INCHES: [[20,"7/200"],[19,"21/500"],[18,"49/1000"],[17,"29/500"],[16,"13/200"],[15,"9/125"],[14,"83/1000"],[13,"19/200"],[12,"109/1000"],[11,"3/25"],[10,"67/500"],[9,"37/250"],[8,"33/200"],[7,"9/50"]],
};

export const lengths = {
  LONGEST_TEXT: 40,
  UNIT_NAMES: {"in":"in","inch":"in","inches":"in","\"":"in","''":"in","ft":"ft","foot":"ft","feet":"ft","'":"ft","mm":"mm","millimetre":"mm","millimetres":"mm","millimeter":"mm","millimeters":"mm","cm":"cm","centimetre":"cm","centimetres":"cm","centimeter":"cm","centimeters":"cm","m":"m","metre":"m","metres":"m","meter":"m","meters":"m","thou":"thou","thousandths":"thou","ga":"ga","gauge":"ga","gage":"ga","bwg":"ga"},
  FORMS: "a number with a unit, such as 1-5/8 in, 1.625 in, 41.3 mm, 134 thou, 2 ft 3 in",
  MARKS: {"′":"'","’":"'","‘":"'","ʹ":"'","″":"\"","”":"\"","“":"\"","〃":"\"","‐":"-","‑":"-","‒":"-","–":"-","—":"-","−":"-","⁄":"/","∕":"/","÷":"/"},
  FRACTION_CHARACTERS: "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞⅟↉",
};

export const materials = {
  MATERIALS: {
    "dom-1020":{"key":"dom-1020","name":"1020 DOM","steel_class":"low-carbon","process":"dom","yield_ksi":60,"ultimate_ksi":70,"near_weld_yield_ksi":35,"near_weld_ultimate_ksi":50,"source":"ASTM A513 supplementary S5 minimums (bind only if ordered to S5)","note":""},
    "dom-1020-sr":{"key":"dom-1020-sr","name":"1020 DOM, stress relieved","steel_class":"low-carbon","process":"dom","yield_ksi":55,"ultimate_ksi":65,"near_weld_yield_ksi":35,"near_weld_ultimate_ksi":50,"source":"ASTM A513 supplementary S5 minimums (bind only if ordered to S5)","note":""},
    "dom-1026":{"key":"dom-1026","name":"1026 DOM","steel_class":"low-carbon","process":"dom","yield_ksi":70,"ultimate_ksi":80,"near_weld_yield_ksi":35,"near_weld_ultimate_ksi":50,"source":"ASTM A513 supplementary S5 minimums (bind only if ordered to S5)","note":"Beside a weld the 1020 normalised row is used; no 1026 normalised row is at hand."},
    "erw-1010":{"key":"erw-1010","name":"1010 as-welded (ERW)","steel_class":"low-carbon","process":"erw","yield_ksi":32,"ultimate_ksi":45,"near_weld_yield_ksi":32,"near_weld_ultimate_ksi":45,"source":"ASTM A513 supplementary S5 minimums (bind only if ordered to S5)","note":""},
    "erw-1020":{"key":"erw-1020","name":"1020 as-welded (ERW)","steel_class":"low-carbon","process":"erw","yield_ksi":38,"ultimate_ksi":52,"near_weld_yield_ksi":35,"near_weld_ultimate_ksi":50,"source":"ASTM A513 supplementary S5 minimums (bind only if ordered to S5)","note":""},
    "1020-n":{"key":"1020-n","name":"1020 normalised","steel_class":"low-carbon","process":"unknown","yield_ksi":35,"ultimate_ksi":50,"near_weld_yield_ksi":35,"near_weld_ultimate_ksi":50,"source":"ASTM A513 supplementary S5 minimums (bind only if ordered to S5)","note":""},
    "4130-n":{"key":"4130-n","name":"4130 normalised","steel_class":"4130","process":"seamless","yield_ksi":50,"ultimate_ksi":70,"near_weld_yield_ksi":50,"near_weld_ultimate_ksi":70,"source":"ASTM A513 supplementary S5 minimums (bind only if ordered to S5)","note":"\"4130 normalised\" has three meanings (A513 S5 50/70, A519 typical 60/90, aircraft specification 75/95 ksi): ask for the certificate."},
    "4130-n-aircraft":{"key":"4130-n-aircraft","name":"4130 normalised, aircraft specification","steel_class":"4130","process":"seamless","yield_ksi":75,"ultimate_ksi":95,"near_weld_yield_ksi":50,"near_weld_ultimate_ksi":70,"source":"project fact sheet, from memory; ask for the certificate","note":"\"4130 normalised\" has three meanings (A513 S5 50/70, A519 typical 60/90, aircraft specification 75/95 ksi): ask for the certificate."},
    "unknown":{"key":"unknown","name":"not known","steel_class":"unknown","process":"unknown","yield_ksi":null,"ultimate_ksi":null,"near_weld_yield_ksi":null,"near_weld_ultimate_ksi":null,"source":"no figure","note":"Find the certificate or the mark on the tube."},
  },
};

export const tolerances = {
  DIAMETER_TABLE: [[0,0.499,0.004],[0.5,1.699,0.005],[1.7,2.099,0.006],[2.1,2.499,0.007],[2.5,2.899,0.008],[2.9,3.299,0.009],[3.3,3.699,0.01],[3.7,4.099,0.011],[4.1,4.499,0.012],[4.5,4.899,0.013],[4.9,5.299,0.014]],
  WALL_TABLE: [[0.035,[[0.002,0.002],[0.002,0.002],[0.002,0.002]]],[0.042,[[0.002,0.002],[0.002,0.003],[0.002,0.003]]],[0.049,[[0.002,0.002],[0.002,0.003],[0.002,0.003]]],[0.065,[[0.002,0.002],[0.002,0.003],[0.002,0.003]]],[0.072,[[0.002,0.002],[0.002,0.003],[0.003,0.003]]],[0.083,[[0.002,0.002],[0.002,0.003],[0.003,0.003]]],[0.095,[[0.002,0.002],[0.002,0.003],[0.003,0.003]]],[0.109,[[0.002,0.003],[0.002,0.004],[0.003,0.003]]],[0.12,[[0.003,0.003],[0.002,0.004],[0.003,0.003]]],[0.134,[null,[0.002,0.004],[0.003,0.003]]]],
};

export const tube = {
  SMALLEST_OD: 0.25,
  LARGEST_OD: 6,
  THINNEST_WALL: 0.02,
  THICKEST_WALL: 0.75,
  SEAMS: ["none","bead","removed","unknown"],
};

export const rules = {
  CLAUSES: {
    "metal":{"key":"metal","document":"FAA AC 43.13-1B, chapter 4 section 5","edition":"Change 1, 2001","clause":"4-77 to 4-82","says":"Bright metal first; never grind a weld smooth for looks; never weld over brazing or an old weld.","basis":"from memory","label":"AC 43.13-1B 4-77 to 4-82 (from memory)"},
    "rosette":{"key":"rosette","document":"FAA AC 43.13-1B, chapter 4 section 5","edition":"Change 1, 2001","clause":"4-85","says":"Drill the outer tube only; hole about 1/4 of the drilled tube's diameter; may be left out with tight sleeves; no count given.","basis":"from memory","label":"AC 43.13-1B 4-85 (from memory)"},
    "heat-treated":{"key":"heat-treated","document":"FAA AC 43.13-1B, chapter 4 section 5","edition":"Change 1, 2001","clause":"4-86","says":"Do not splice a member whose strength came from heat treatment without re-treating it.","basis":"from memory","label":"AC 43.13-1B 4-86 (from memory)"},
    "secondary":{"key":"secondary","document":"FAA AC 43.13-1B, chapter 4 section 5","edition":"Change 1, 2001","clause":"4-91","says":"Look for secondary damage away from the hit; welded tubing may be spliced anywhere along the tube unless noted; fit and alignment first.","basis":"from memory","label":"AC 43.13-1B 4-91 (from memory)"},
    "split-sleeve":{"key":"split-sleeve","document":"FAA AC 43.13-1B, chapter 4 section 5","edition":"Change 1, 2001","clause":"4-92","says":"Dent, bend or crack in a bay: straighten, stop-drill crack ends No. 40, split sleeve of the same material and at least the wall, ends cut 30 degrees to the axis, at least 1.5 D past the damage; filling with rod is not acceptable.","basis":"read in a public copy","label":"AC 43.13-1B 4-92"},
    "bolted":{"key":"bolted","document":"FAA AC 43.13-1B, chapter 4 section 5","edition":"Change 1, 2001","clause":"4-93","says":"No bolted sleeves on welded tube without specific authorisation.","basis":"read in a public copy","label":"AC 43.13-1B 4-93"},
    "patch":{"key":"patch","document":"FAA AC 43.13-1B, chapter 4 section 5","edition":"Change 1, 2001","clause":"4-94","says":"Dent up to D/10 deep, 1/4 of the circumference, D long, no cracks or sharp corners, re-formable; hole up to D long and 1/4 of the circumference; patch of the same material, one gauge thicker.","basis":"read in a public copy","label":"AC 43.13-1B 4-94"},
    "patch-place":{"key":"patch-place","document":"FAA AC 43.13-1B, chapter 4 section 5","edition":"Change 1, 2001","clause":"4-94","says":"No part of a patch in the middle third of the tube, nor over a joint.","basis":"from memory","label":"AC 43.13-1B 4-94 (from memory)"},
    "inner-sleeve":{"key":"inner-sleeve","document":"FAA AC 43.13-1B, chapter 4 section 5","edition":"Change 1, 2001","clause":"4-95","says":"Diagonal cut with a 1/8 in gap; replacement of the same material, OD and at least the wall; sleeve of the same material and at least the wall, diameter difference up to 1/16 in, end at least 1.5 D past the nearest end of the cut; weld through the gap.","basis":"from memory","label":"AC 43.13-1B 4-95 (from memory)"},
    "outer-sleeve":{"key":"outer-sleeve","document":"FAA AC 43.13-1B, chapter 4 section 5","edition":"Change 1, 2001","clause":"4-96","says":"Only where other methods do not suit: square cuts, replacement bears on the stubs, total gap up to 1/32 in; sleeve of the same material and at least the wall, ID up to 1/16 in over the tube; diagonal or fishmouth ends at least 1.5 D from the cut, fishmouth wherever possible; tack in two places; weld one sleeve, let it cool, then the other.","basis":"from memory","label":"AC 43.13-1B 4-96 (from memory)"},
    "larger-tube":{"key":"larger-tube","document":"FAA AC 43.13-1B, chapter 4 section 5","edition":"Change 1, 2001","clause":"4-97","says":"Not near clusters or where brackets need the original OD; square stubs, short 2.5 D, long 4.5 D at least; diameter difference up to 1/16 in; ends diagonal or fishmouth, at least 1.5 D from the cut; file the crotch radius out; weld one end, cool completely, weld the other.","basis":"read in a public copy","label":"AC 43.13-1B 4-97"},
    "dom":{"key":"dom","document":"ASTM A513 type 5","edition":"as reprinted by tube suppliers","clause":"diameter and wall tolerances","says":"OD +t/-0 and ID +0/-t by size; wall by gauge.","basis":"read in a public copy","label":"ASTM A513 type 5 diameter and wall tolerances"},
    "seam-practice":{"key":"seam-practice","document":"","edition":"","clause":"","says":"An inside weld bead takes the room the other tube needs.","basis":"common practice, no source","label":"common practice, no source"},
    "shorthand":{"key":"shorthand","document":"","edition":"","clause":"","says":"Shops put the tube's diameter where the cut runs on the sleeve's: 3 D + D T.","basis":"common practice, no source","label":"common practice, no source"},
    "rosette-practice":{"key":"rosette-practice","document":"","edition":"","clause":"","says":"Four holes a pointed sleeve, each on the line of a tip.","basis":"common practice, no source","label":"common practice, no source"},
    "plug":{"key":"plug","document":"AISC 360","edition":"2016","clause":"J2.3b","says":"Plug diameter at least thickness + 5/16 in, rounded up to the next odd 1/16 in.","basis":"from memory","label":"AISC 360 J2.3b (from memory)"},
  },
  PRACTICE: "common practice, no source",
  DEFERENCE: "Not a verdict on the car. The rule book, local codes, the inspector and a qualified welder decide.",
};

export const sleeve = {
  ENDS: ["pointed","fishmouth","scarf","square"],
  STEEPEST_MITRE: 75,
  OVERLAP_DIAMETERS: 1.5,
};

export const rosette = {
  CELLS: 48,
  PARTS: 8,
};

export const rosetteSearch = {
  MOST_HOLES: 3,
  SPACING_DIAMETERS: 4,
  SPACING_SOURCE: "AISC 360 J2.3b (from memory)",
};

export const fit = {
  LARGEST_CLEARANCE: "1/16",
};

export const sizeInput = {
  MEMBERS: ["end","gap","kerf","length","mitre_deg","opening","replacement","sleeve","trim","tube","units"],
  EXAMPLE: "{\"tube\": {\"od\": \"1-5/8 in\", \"wall\": \".120 in\", \"material\": \"dom-1020\", \"seam\": \"none\"}, \"sleeve\": {\"od\": \"1-7/8 in\", \"wall\": \".120 in\", \"material\": \"dom-1020\"}, \"end\": \"pointed\", \"mitre_deg\": 60, \"gap\": \"0 in\"}",
  WIDEST_GAP: 12,
  LONGEST_SLEEVE: 240,
  WIDEST_KERF: 0.5,
  LONGEST_TRIM: 6,
  LONGEST_OPENING: 240,
};

export const sizing = {
  METHODS: ["outer-sleeve","inner-sleeve","larger-tube","split-sleeve","patch"],
  SPLICES: ["outer-sleeve","inner-sleeve","larger-tube"],
};

export const sizeOptions = {
  HOLES: ["circular","shop","structural"],
  SAWN: ["outer-sleeve","inner-sleeve","larger-tube","split-sleeve"],
  PLUGGED: ["outer-sleeve","inner-sleeve","larger-tube"],
  READINGS: ["bead","sleeve_bore","sleeve_od","sleeve_wall","tube_od"],
  SWAPPED: {"sleeve_od":"tube_od","tube_bore":"sleeve_bore","tube_od":"sleeve_od","tube_wall":"sleeve_wall","bead":"bead"},
  LONGEST_BLOCK: 48,
  WIDEST_HOLE: 2,
  LONGEST_DISTANCE: 6,
  MOST_SLEEVES: 99,
  NAMES: ["method","strength","measured","rosettes","saw_limit","block_distance","hole","count","member"],
};

export const fitMeasured = {
  MEMBERS: ["bead","sleeve","sleeve_bore","sleeve_od","sleeve_wall","tube","tube_od","units"],
  EXAMPLE: "{\"tube_od\": [\"1.625 in\", \"1.628 in\"], \"sleeve_bore\": [\"1.634 in\", \"1.636 in\"], \"bead\": \"0 in\"}",
  SLIDES: 0.003,
  MOST_HONED: 0.01,
  MOST_POLISHED: 0.002,
  MOST_READINGS: 12,
  ENOUGH_READINGS: 4,
  WIDEST_SPREAD: 0.05,
  FINEST: 0.001,
};

export const saw = {
  STEEPEST_BLOCK: 45,
  USUAL_STOP: 45,
  USUAL_RUN: 12,
  WRAP: "Mark the end with a wrap template and cut to the line.",
  CUT_ORDER: {
    "pointed":["Scribe the two tip lines full length, opposite each other.","Turn one tip line straight up. Start the blade on the tips, at the end of the blank.","Cut the first mitre.","Roll the tube half a turn. Check the tip line with a square.","Cut the second mitre, the mirror of the first. Leave the tips on the lines.","Deburr inside and outside."],
    "fishmouth":["Scribe the two tip lines full length, opposite each other.","Mark the crotch on both sides, a quarter turn from the tip lines.","Turn a crotch mark straight up. Use a band saw or a hacksaw: a chop saw runs past the crotch.","Cut the first mitre from one tip. Stop before the crotch mark.","Roll the tube half a turn. Check the lines with a square.","Cut the second mitre from the other tip. Stop before the crotch mark.","Break the notch out. File the crotch round with a small round file.","Deburr inside and outside."],
    "scarf":["Scribe the two tip lines full length, opposite each other. One end's tip is on each.","Turn the tip line to the side where the blade leaves it longest.","Cut the mitre.","Deburr inside and outside."],
    "square":["Cut square.","Deburr inside and outside."],
  },
  BATCH: {
    "pointed":["Saw square. Set the length stop to {blank}.","Cut all the blanks square.","Deburr every blank.","Scribe the tip lines on every blank.","Set the mitre and an end stop once. Cut mitre A on one end of every blank.","Turn each blank end for end. Cut mitre A on the other end.","Roll each blank half a turn. Cut mitre B on that end.","Turn each blank end for end. Cut mitre B on the first end."],
    "fishmouth":["Saw square. Set the length stop to {blank}.","Cut all the blanks square.","Deburr every blank.","Scribe the tip lines on every blank.","Set the mitre and an end stop once. Cut mitre A on one end of every blank.","Turn each blank end for end. Cut mitre A on the other end.","Roll each blank half a turn. Cut mitre B on that end.","Turn each blank end for end. Cut mitre B on the first end."],
    "scarf":["Saw square. Set the length stop to {blank}.","Cut all the blanks square.","Deburr every blank.","Scribe the tip lines on every blank.","Set the mitre once. Cut one end of every blank.","Turn each blank end for end without rolling it. Cut the other end parallel."],
    "square":["Saw square. Set the length stop to {blank}.","Cut all the blanks square.","Deburr every blank."],
  },
};

export const drill = {
  SURFACE_SPEEDS: {"low-carbon":[80,110],"4130":[60,80]},
  PILOT_SMALL: "1/8",
  PILOT_LARGE: "3/16",
  PILOT_CHANGE: "3/8",
  CENTRE_BODY: "3/16",
  NO_40: "49/500",
  WORDS: {"mark":"Scribe the tip line. Mark the hole's centre on it.","clamp":"Turn the tip line straight up in the vice. Check it with a square.","slide":"Slide the sleeve over the tube by hand."},
};

export const holePlan = {
  MEASURED_FROM: {"from_tip":"from the tip, along the tip line","from_tube_tip":"from the tube's tip, along its tip line","from_cut":"from the nearest end of the cut, on two opposite sides of the tube"},
};

export const card = {
  SPEED_SOURCE: "HSS cutting speeds from memory",
  SLIT: ["Slit every sleeve full length on two opposite lines. Mark the halves that belong together.","Deburr the slits."],
  DEBURR: "Deburr inside and outside.",
  WORDS: {"outer-sleeve":["Take the sleeve off the tube to drill. Drill the sleeve only, never the tube.","The sleeve does not reach past the stub end. There is no place for a hole."],"larger-tube":["Take the new tube off the stubs to drill. Drill the new tube only, never the stub.","The new tube does not reach past the stub end. There is no place for a hole."],"inner-sleeve":["Drill the tube and the replacement before the sleeve goes in. Never drill the sleeve.","The sleeve does not reach past the cut. There is no place for a hole."]},
  STEPS: {"from_cut":{"clamp":"Turn the line straight up in the vice. On the car, hold the drill square to the tube.","slide":"Slide the sleeve in by hand.","mark":"Scribe two opposite lines along the tube. Mark the hole's centre on each."},"from_tube_tip":{"clamp":"Turn the line straight up in the vice. On the car, hold the drill square to the tube.","slide":"Slide the sleeve in by hand.","mark":"Scribe a line along the tube from its tip. Mark the hole's centre on it."}},
  ON_STUBS: {"slide":"Slide the new tube over the stub by hand."},
};

export const replacement = {
  LARGEST_BUTT_GAP: 0.03125,
  WELD_ROOM_WORDS: "common practice, no source",
};

export const innerSleeveInput = {
  MEMBERS: ["bead","gap","length","mitre_deg","replacement","sleeve","tube","turned_od","units"],
  EXAMPLE: "{\"tube\": {\"od\": \"1-5/8 in\", \"wall\": \".120 in\", \"material\": \"dom-1020\", \"seam\": \"none\"}, \"sleeve\": {\"od\": \"1-3/8 in\", \"wall\": \".120 in\", \"material\": \"dom-1020\"}, \"mitre_deg\": 60, \"gap\": \"1/8 in\"}",
  DEFAULT_GAP: "1/8 in",
  DEFAULT_MITRE: 60,
  TALLEST_BEAD: 0.25,
  LARGEST_TURNED: 6,
};

export const largerTubeInput = {
  MEMBERS: ["end","length","mitre_deg","opening","sleeve","stub_long","stub_short","tube","units"],
  EXAMPLE: "{\"tube\": {\"od\": \"1-5/8 in\", \"wall\": \".120 in\", \"material\": \"dom-1020\", \"seam\": \"none\"}, \"sleeve\": {\"od\": \"1-7/8 in\", \"wall\": \".120 in\", \"material\": \"dom-1020\"}, \"end\": \"fishmouth\", \"mitre_deg\": 60, \"opening\": \"6 in\", \"stub_short\": \"5 in\", \"stub_long\": \"9 in\"}",
  WIDEST_OPENING: 240,
  LONGEST_STUB: 240,
};

export const splitSleeveInput = {
  MEMBERS: ["damage","damage_length","end","kerf","length","mitre_deg","sleeve","tube","units"],
  EXAMPLE: "{\"tube\": {\"od\": \"1-5/8 in\", \"wall\": \".120 in\", \"material\": \"dom-1020\", \"seam\": \"none\"}, \"sleeve\": {\"od\": \"1-7/8 in\", \"wall\": \".120 in\", \"material\": \"dom-1020\"}, \"damage\": \"crack\", \"damage_length\": \"1 in\", \"end\": \"scarf\", \"mitre_deg\": 60, \"kerf\": \"1/16 in\"}",
  ENDS: ["scarf","fishmouth","pointed"],
  LONGEST_DAMAGE: 48,
};

export const splitSleeve = {
  DAMAGE: ["dent","crack","bend"],
  STOP_DRILL: 0.098,
};

export const patchInput = {
  MEMBERS: ["around","can_reform","damage","damage_length","depth","margin","middle_third","over_joint","patch","sharp_corners","tube","units"],
  EXAMPLE: "{\"tube\": {\"od\": \"1-5/8 in\", \"wall\": \".120 in\", \"material\": \"dom-1020\", \"seam\": \"none\"}, \"patch\": {\"wall\": \".134 in\", \"material\": \"dom-1020\"}, \"damage\": \"dent\", \"depth\": \"1/8 in\", \"damage_length\": \"1 in\", \"around\": \"3/4 in\", \"middle_third\": \"no\", \"over_joint\": \"no\", \"sharp_corners\": \"no\", \"can_reform\": \"yes\"}",
  FOUND: ["around","can_reform","damage","damage_length","depth","middle_third","sharp_corners","tube","units"],
  ASKED: ["middle_third","sharp_corners","can_reform"],
  DAMAGE: ["dent","hole"],
  WIDEST_MARGIN: 12,
};

export const stockSizes = {
  DOM_WALLS: [65,83,95,120,134,188,250],
  CHROMOLY_WALLS: [35,49,58,65,83,95,120],
  MORE_WALLS: [109,165],
  STEPS_OVER: [1,2,3,4,5],
  STEPS_AT_BORE: [-2,-1,0,1,2,3],
  STEPS_AT_PATCH: [-2,-1,0,1,2],
};

export const stockRows = {
  STANDING_ORDER: {"fits":0,"measure first":1,"turn it down first":2,"ask the inspector":3,"does not fit":4},
};

export const assessInput = {
  MEMBERS: ["around","brazed","can_reform","crack_into_joint","damage","damage_length","depth","heat_treated","inside_bead","known_by","member","middle_third","near_cluster","needs_same_od","od_readings","old_weld","room_left","room_right","sharp_corners","tube","units"],
  DAMAGE_KINDS: ["cut-out","dent","crack","hole","bend"],
  ANSWERS: ["yes","no","unknown"],
  KNOWN_BY: ["certificate","mark","assumption"],
  QUESTIONS: {"heat_treated":"Does this member's strength come from heat treatment?","brazed":"Is there brazing where the weld would go?","crack_into_joint":"Does a crack run into a joint?","old_weld":"Would the new weld lie on an old weld?","near_cluster":"Is the cut close to a cluster of joints?","needs_same_od":"Does a bracket or clamp need the tube's own outside diameter here?","middle_third":"Would any part of a patch lie in the middle third of the tube?","sharp_corners":"Does the dent have a crack, a scrape or a sharp corner?","can_reform":"Can the dent be pushed back into shape without cracking?","inside_bead":"Is there a weld bead inside the tube?"},
  LENGTHS: {"depth":"How deep is the damage?","damage_length":"How long is the damage along the tube?","around":"How far around the tube does the damage go, along its surface?","room_left":"How far from the damage to the nearest joint, bend, tab or old weld on the left?","room_right":"How far from the damage to the nearest joint, bend, tab or old weld on the right?"},
  LONGEST: 480,
};

export const assess = {
  WELD_ROOM: 0.25,
  USUAL_SLEEVE_STEP: 0.25,
  LOOK_ELSEWHERE: ["Sight along each member next to the hit. Look for a bow.","Look at every joint at both ends of the bent member for cracks, flaking paint and rust lines.","Measure the diagonals of the bay. Unequal diagonals mean the frame moved.","Look at mounts and tabs on the far side of the car.","Get the fit and alignment right before anything is welded."],
  METHODS: [
    {"key":"inner-sleeve","name":"Inner sleeve","clause":"AC 43.13-1B 4-95 (from memory)","about":"Cut the damage out on a diagonal, slide a smaller tube inside, weld through the gap.","damage":["cut-out","dent","crack","hole","bend"]},
    {"key":"larger-tube","name":"Larger replacement tube","clause":"AC 43.13-1B 4-97","about":"Cut the damage out square, slide a larger tube over both stubs. The least cutting and welding.","damage":["cut-out","dent","crack","hole","bend"]},
    {"key":"split-sleeve","name":"Split sleeve over the damage","clause":"AC 43.13-1B 4-92","about":"Straighten, stop-drill cracks, weld two half sleeves over the damage.","damage":["dent","crack","bend"]},
    {"key":"patch","name":"Welded patch","clause":"AC 43.13-1B 4-94","about":"Re-form the dent, weld a patch one gauge thicker over a small dent or hole.","damage":["dent","hole"]},
    {"key":"outer-sleeve","name":"Outer sleeve","clause":"AC 43.13-1B 4-96 (from memory)","about":"Cut the damage out square, fit a replacement piece, slide sleeves over the joints. The most welding.","damage":["cut-out","dent","crack","hole","bend"]},
  ],
};

export const choices = {
  END_TEXT: {"fishmouth":"V notch, rounded tips. The circular prefers it.","pointed":"Two mirrored mitres, sharp tips. Common in shops.","scarf":"One flat diagonal cut.","square":"Straight cut. The circular does not draw it."},
  SEAM_TEXT: {"none":"no bead","bead":"bead inside","removed":"bead removed","unknown":"not looked at"},
};

export const wording = {
  AS_SIZED: "as sized",
  TEXTS: ["tube","sleeve","blank_length","mitre","hole_diameter","holes","material"],
  FIGURES: ["od","wall","rule_length","patch_wall"],
  WORDS: {"material_class":["low-carbon","4130","unknown"],"process":["gtaw","gmaw","smaw"],"end_shape":["fishmouth","pointed","scarf","square"]},
  LONGEST_WORDS: 60,
  LARGEST_INCHES: 240,
  PREHEAT_WALL: "3/25",
  SHADES: {"gtaw":"TIG at least 8 under 150 A, 10 above","gmaw":"MIG at least 7 under 60 A, 10 above","smaw":"stick at least 8 to 160 A, 10 above"},
  NO_PREHEAT: "No preheat. Check the tube: dry, 60 to 70 °F (16 to 21 °C) or warmer.",
};

export const checklist = {
  ACTIONS: ["done","skip","undo","note"],
  MEMBERS: ["action","default_unit","reason","step","value","when","who"],
  LONGEST_WAIT: 86400,
  LONGEST_NAME: 80,
  SHORTEST_REASON: 3,
  LONGEST_REASON: 1000,
  CHROMOLY: "4130 cracks when chilled. Sources differ on preheat for thin walls: ask the qualified welder.",
  METHODS: {
    "outer-sleeve":{"version":"outer-sleeve 1","title":"Outer sleeve splice","second_sleeve":["replacement","second-end","second-other-end","second-rosettes"],"fishmouth":["crotch"],"groups":[{"key":"prepare-car","title":"Prepare the car","any_order":true,"steps":[0,1,2,3,4,5,6,7]},{"key":"judge","title":"Judge and measure","any_order":false,"steps":[8,9,10,11,12,13,14]},{"key":"make-sleeve","title":"Cut and make the sleeve","any_order":false,"steps":[15,16,17,18,19,20,21,22,23]},{"key":"prepare-tube","title":"Prepare the tube","any_order":false,"steps":[24,25,26,27,28,29,30,31]},{"key":"fit-up","title":"Fit up","any_order":false,"steps":[32,33,34,35,36,37]},{"key":"tack","title":"Get ready and tack","any_order":false,"steps":[38,39,40,41,42,43]},{"key":"weld","title":"Weld, one sleeve at a time","any_order":false,"steps":[44,45,46,47,48,49,50,51]},{"key":"inspect","title":"Cool and inspect","any_order":false,"steps":[52,53,54,55,56,57,58,59]},{"key":"finish","title":"Finish and tag","any_order":false,"steps":[60,61,62,63,64,65,66,67]}]},
    "inner-sleeve":{"version":"inner-sleeve 1","title":"Inner sleeve splice","second_sleeve":[],"fishmouth":[],"groups":[{"key":"prepare-car","title":"Prepare the car","any_order":true,"steps":[0,1,2,3,4,5,6,7]},{"key":"judge","title":"Judge and measure","any_order":false,"steps":[68,9,10,11,12,69,14]},{"key":"make-sleeve","title":"Cut and make the sleeve","any_order":false,"steps":[70,16,71,72,73,74]},{"key":"prepare-tube","title":"Prepare the tube","any_order":false,"steps":[24,75,76,77,28,29,30]},{"key":"fit-up","title":"Fit up","any_order":false,"steps":[78,79,80,81,82,37]},{"key":"tack","title":"Get ready and tack","any_order":false,"steps":[38,39,40,41,83,43]},{"key":"weld","title":"Weld, one cut at a time","any_order":false,"steps":[84,85,86,87,88]},{"key":"inspect","title":"Cool and inspect","any_order":false,"steps":[52,53,54,55,56,57,58,59]},{"key":"finish","title":"Finish and tag","any_order":false,"steps":[60,61,62,63,64,65,66,67]}]},
    "larger-tube":{"version":"larger-tube 1","title":"Larger-diameter replacement tube","second_sleeve":[],"fishmouth":["crotch"],"groups":[{"key":"prepare-car","title":"Prepare the car","any_order":true,"steps":[0,1,2,3,4,5,6,7]},{"key":"judge","title":"Judge and measure","any_order":false,"steps":[68,9,10,11,12,89,14]},{"key":"make-tube","title":"Cut and make the replacement","any_order":false,"steps":[90,16,91,92,93,20,94]},{"key":"prepare-tube","title":"Prepare the stubs","any_order":false,"steps":[24,95,96,97,98,28,29,30,99]},{"key":"fit-up","title":"Fit up","any_order":false,"steps":[100,101,102,103,37]},{"key":"tack","title":"Get ready and tack","any_order":false,"steps":[38,39,40,41,104,43]},{"key":"weld","title":"Weld, one end at a time","any_order":false,"steps":[105,85,106,107,88]},{"key":"inspect","title":"Cool and inspect","any_order":false,"steps":[52,53,54,55,56,57,58,59]},{"key":"finish","title":"Finish and tag","any_order":false,"steps":[60,61,62,63,64,65,66,67]}]},
    "split-sleeve":{"version":"split-sleeve 1","title":"Split sleeve reinforcement","second_sleeve":[],"fishmouth":[],"groups":[{"key":"prepare-car","title":"Prepare the car","any_order":true,"steps":[0,1,2,3,4,5,6,7]},{"key":"judge","title":"Judge and measure","any_order":false,"steps":[68,9,10,11,12,108,14]},{"key":"make-sleeve","title":"Cut and make the sleeve","any_order":false,"steps":[109,16,18,110,111,112]},{"key":"prepare-tube","title":"Prepare the tube","any_order":false,"steps":[113,114,28,29,115,30,116]},{"key":"fit-up","title":"Fit up","any_order":false,"steps":[117,118,119,120,37]},{"key":"tack","title":"Get ready and tack","any_order":false,"steps":[38,39,40,41,121,43]},{"key":"weld","title":"Weld seams and ends","any_order":false,"steps":[122,123,124,125,126,127]},{"key":"inspect","title":"Cool and inspect","any_order":false,"steps":[52,53,54,55,56,57,58,59]},{"key":"finish","title":"Finish and tag","any_order":false,"steps":[60,61,62,63,64,65,66,67]}]},
    "patch":{"version":"patch 1","title":"Welded patch","second_sleeve":[],"fishmouth":[],"groups":[{"key":"prepare-car","title":"Prepare the car","any_order":true,"steps":[0,1,2,3,4,5,6,7]},{"key":"judge","title":"Judge and measure","any_order":false,"steps":[68,9,10,11,12,14]},{"key":"damage","title":"Measure the damage","any_order":false,"steps":[128,129,130,131,132,133]},{"key":"make-patch","title":"Make the patch","any_order":false,"steps":[134,135,136,137,138,139]},{"key":"prepare-tube","title":"Prepare the tube","any_order":false,"steps":[140,141,28,29,30,37]},{"key":"tack","title":"Get ready and tack","any_order":false,"steps":[38,39,40,41,142,43]},{"key":"weld","title":"Weld the patch","any_order":false,"steps":[143,144,145,146,127]},{"key":"inspect","title":"Cool and inspect","any_order":false,"steps":[52,53,54,55,56,57,58,59]},{"key":"finish","title":"Finish and tag","any_order":false,"steps":[60,61,62,63,64,65,66,67]}]},
  },
  STEPS: [
    {"key":"stands","text":"Set the car on rated stands, on hard level ground.","why":"","cautions":[{"text":"A jack does not hold a car. Use stands rated for its weight.","source":"from memory"}],"hold":null,"timer":null,"skippable":false,"basis":"common practice, no source"},{"key":"fuel-out","text":"Take the fuel out and carry it at least 35 ft away.","why":"","cautions":[{"text":"Fuel vapour runs along the floor to the arc. Take the fuel out of the pit.","source":"from memory"}],"hold":null,"timer":null,"skippable":false,"basis":"OSHA 1910.252 (35 ft)"},
    {"key":"battery-off","text":"Unplug the battery.","why":"","cautions":[{"text":"Weld current through a connected battery or box ruins it and can start a fire.","source":"from memory"}],"hold":null,"timer":null,"skippable":false,"basis":"from memory"},{"key":"electronics-off","text":"Unplug the engine computer, ignition, logger and every other box.","why":"","cautions":[],"hold":null,"timer":null,"skippable":false,"basis":"from memory"},
    {"key":"clear-area","text":"Move what burns 35 ft away, or cover it with welding blankets.","why":"","cautions":[{"text":"Cover what cannot be moved with welding blankets. Look on the far side of panels too.","source":"OSHA 1910.252"}],"hold":null,"timer":null,"skippable":true,"basis":"OSHA 1910.252"},{"key":"move-lines","text":"Take away or shield fuel, brake and oil lines, wires and belts near the weld.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"fresh-air","text":"Open the doors. Fresh air for you, still air at the weld.","why":"","cautions":[{"text":"Argon pushes the air out of low and closed places. No smell warns you.","source":"from memory"}],"hold":null,"timer":null,"skippable":true,"basis":"from memory"},{"key":"name-watch","text":"Name the fire watch. Hand over the extinguisher.","why":"The watch does nothing else until it ends.","cautions":[{"text":"OSHA 1910.252: watch 30 minutes or more after the last arc. NFPA 51B has asked 60 since 2019 (from memory).","source":"OSHA 1910.252; NFPA 51B (from memory)"}],"hold":null,"timer":null,"skippable":false,"basis":"OSHA 1910.252"},
    {"key":"ask-rules","text":"Ask the inspector if the rule book allows this repair here.","why":"Rule book, chassis builder and inspector outrank this list.","cautions":[{"text":"The circular keeps the outer sleeve for places where other repairs do not suit: it takes most welding.","source":"AC 43.13-1B 4-96 (from memory)"}],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"look-away","text":"Look along the tube and at the next joints for bends and cracks.","why":"Damage travels.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-91 (from memory)"},
    {"key":"not-treated","text":"Check that this member is not heat-treated. If it is, stop and replace it.","why":"","cautions":[],"hold":null,"timer":null,"skippable":false,"basis":"AC 43.13-1B 4-86 (from memory)"},{"key":"no-old-weld","text":"Check for brazing or old weld where the new weld goes. If found, stop.","why":"Never weld over brazing or an old weld.","cautions":[],"hold":null,"timer":null,"skippable":false,"basis":"AC 43.13-1B 4-77 to 4-82 (from memory)"},
    {"key":"material","text":"Find the tube's mark or certificate. Plan: {material}.","why":"The new metal must be the same material.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"room","text":"Check the room, clear of joints and tabs. Length each sleeve needs: {rule_length}.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},
    {"key":"line-before","text":"Pick two fixed points across the damage. Measure between them.","why":"The same two points show if the weld pulled the frame.","cautions":[],"hold":{"unit":"in","limit_kind":"record","limit":null,"ask":"Length between the two points","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"sleeve-stock","text":"Take the sleeve stock: {sleeve}. Same material. Wall no thinner.","why":"A thinner wall needs the inspector's agreement on the record.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},
    {"key":"heat-number","text":"Write its heat number on the bar and on the offcut before you cut.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"clearance","text":"Measure the sleeve inside and the tube outside. Take one from the other.","why":"A sleeve that is loose leaves the weld a gap to bridge.","cautions":[],"hold":{"unit":"in","limit_kind":"at most","limit":"1/16","ask":"Sleeve inside minus tube outside, diameters","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},
    {"key":"blank","text":"Cut the sleeve blank to length: {blank_length}.","why":"","cautions":[{"text":"Eye and ear protection. Keep the sparks off the car and off you.","source":"common practice, no source"}],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"end-shape","text":"Cut both ends. Shape: {end_shape}. Saw mitre from square: {mitre}.","why":"A fishmouth wherever it can be had.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},
    {"key":"crotch","text":"File each fishmouth crotch to a radius with a small round file.","why":"A sharp crotch starts a crack.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97"},{"key":"sleeve-length","text":"Measure the finished sleeve tip to tip along its outside.","why":"Short on this line, the reach past the cut is short.","cautions":[],"hold":{"unit":"in","limit_kind":"at least","limit":"rule_length","ask":"Longest line on the outside of the shorter sleeve","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},
    {"key":"rosettes","text":"Drill the rosette holes in the sleeve only: {hole_diameter}. Pilot first.","why":"A pilot keeps the hole round. Tight sleeves may go without.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-85 (from memory)"},{"key":"deburr","text":"Deburr holes and ends, inside too. The sleeve must slide on the tube.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"brace","text":"Brace the frame across the damage before you cut.","why":"A cut tube lets the frame move.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"cut-out","text":"Cut the damage out, square to the tube, past every crack.","why":"","cautions":[{"text":"Eye and ear protection. Keep the sparks off the car and off you.","source":"common practice, no source"}],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},
    {"key":"square-ends","text":"File the stub ends square. Deburr inside and outside.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},{"key":"replacement","text":"Cut the replacement: {tube}. Same material and diameter, wall no thinner.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},
    {"key":"strip","text":"Strip plating, paint and primer well past every weld line.","why":"","cautions":[{"text":"Zinc, cadmium, chrome plating and chromate paint give poison fume. Strip them before heat.","source":"from memory"},{"text":"Eye and ear protection. Keep the sparks off the car and off you.","source":"common practice, no source"}],"hold":null,"timer":null,"skippable":true,"basis":"from memory"},{"key":"bright","text":"Clean to bright metal. Wipe dry. Carry the rag and cleaner away.","why":"","cautions":[{"text":"Chlorinated brake cleaner near an arc makes phosgene. It can kill. Keep it out.","source":"from memory"}],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-77 to 4-82 (from memory)"},
    {"key":"vent","text":"Find the vent. If the tube is closed, open one where the builder allows.","why":"","cautions":[{"text":"Never weld a closed tube without a vent: it can burst or blow the weld out.","source":"from memory"},{"text":"Oil inside burns and spoils the weld. Oil goes in after welding.","source":"from memory"}],"hold":null,"timer":null,"skippable":false,"basis":"from memory"},{"key":"mark-reach","text":"Mark the reach on each stub, back from its cut: {overlap}.","why":"The sleeve's nearest metal passes it.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},
    {"key":"slide-on","text":"Slide the sleeves on, clear of the cuts.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"bear","text":"Set the tube ends in line, touching all round.","why":"The replacement bears on the stubs.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},
    {"key":"gap","text":"Measure the gap at every cut. Add them up.","why":"The tube ends carry load, not only the weld.","cautions":[],"hold":{"unit":"in","limit_kind":"at most","limit":"1/32","ask":"Total gap","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},{"key":"centre","text":"Slide each sleeve over its cut, tips on the drawing's line.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"overlap","text":"Measure the reach past the cut at every sleeve end, nearest metal.","why":"Nearest metal is the crotch of a fishmouth, the valley of a pointed end.","cautions":[],"hold":{"unit":"in","limit_kind":"at least","limit":"overlap","ask":"Shortest reach of all the ends","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},{"key":"line-fit","text":"Measure between the two fixed points again. Set the frame back if it moved.","why":"","cautions":[],"hold":{"unit":"in","limit_kind":"record","limit":null,"ask":"Length between the two points","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-91 (from memory)"},
    {"key":"gear","text":"Helmet, gloves, sleeves on. Lens: {shade}.","why":"","cautions":[{"text":"Lowest shade: TIG under 150 A 8, to 500 A 10. MIG under 60 A 7, to 250 A 10. Stick 60 to 160 A 8, to 250 A 10.","source":"OSHA 1910.133"},{"text":"Arc burns skin and eyes. Gloves, sleeves, boots. Helpers look away or wear a shade.","source":"from memory"}],"hold":null,"timer":null,"skippable":true,"basis":"OSHA 1910.133"},{"key":"filler","text":"Check filler, gas and a clean tungsten or wire against the qualified procedure.","why":"","cautions":[{"text":"Do not breathe dust from grinding thoriated tungsten. Use another tungsten or a filter.","source":"from memory"}],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"ground","text":"Clamp the ground on bright metal close to the weld.","why":"","cautions":[{"text":"Never let weld current run through a bearing, joint or cable.","source":"from memory"}],"hold":null,"timer":null,"skippable":false,"basis":"from memory"},{"key":"temperature","text":"{preheat}","why":"","cautions":[{"text":"4130 cracks when chilled. Sources differ on preheat for thin walls: ask the qualified welder.","source":"from memory"}],"hold":null,"timer":null,"skippable":true,"basis":"sources differ; from memory"},
    {"key":"tack","text":"Tack each sleeve in two places.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},{"key":"tack-look","text":"Check the line again. Cut out any cracked tack and tack again.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"first-rosettes","text":"Fill the rosettes of the first sleeve.","why":"No order is published for rosettes.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"order: common practice, no source"},{"key":"first-end","text":"Weld one end of the first sleeve all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},
    {"key":"first-other-end","text":"Weld the other end of the same sleeve all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},{"key":"first-craters","text":"Fill the craters. Look for cracks while you can still reach.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"first-cool","text":"Stop. Let this sleeve cool completely. Touch test: no warmth.","why":"Heat from both sleeves at once pulls the frame.","cautions":[{"text":"It looks cold long before it is. Back of the hand near it first.","source":"common practice, no source"},{"text":"4130 cracks when chilled. Sources differ on preheat for thin walls: ask the qualified welder.","source":"from memory"}],"hold":null,"timer":{"seconds":900,"text":"Reminder; the touch test decides"},"skippable":false,"basis":"AC 43.13-1B 4-96 (from memory)"},{"key":"second-rosettes","text":"Fill the rosettes of the second sleeve.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"order: common practice, no source"},
    {"key":"second-end","text":"Weld one end of the second sleeve all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},{"key":"second-other-end","text":"Weld the other end of the second sleeve all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-96 (from memory)"},
    {"key":"watch-start","text":"Start the fire watch at the last arc.","why":"","cautions":[{"text":"OSHA 1910.252: watch 30 minutes or more after the last arc. NFPA 51B has asked 60 since 2019 (from memory).","source":"OSHA 1910.252; NFPA 51B (from memory)"}],"hold":null,"timer":{"seconds":1800,"text":"Fire watch from the last arc"},"skippable":false,"basis":"OSHA 1910.252"},{"key":"slow-cool","text":"Let it cool slowly in still air. No fan, no water, no wet rag.","why":"","cautions":[{"text":"It looks cold long before it is. Back of the hand near it first.","source":"common practice, no source"},{"text":"4130 cracks when chilled. Sources differ on preheat for thin walls: ask the qualified welder.","source":"from memory"}],"hold":null,"timer":{"seconds":900,"text":"Reminder; the touch test decides"},"skippable":false,"basis":"from memory; the time is common practice, no source"},
    {"key":"cracks","text":"Look at every weld and the metal beside it for cracks. Strong light.","why":"A crack grows on the track.","cautions":[],"hold":null,"timer":null,"skippable":false,"basis":"common practice, no source"},{"key":"weld-look","text":"Look for undercut, holes, cold laps, open craters and undersized weld.","why":"","cautions":[],"hold":null,"timer":null,"skippable":false,"basis":"common practice, no source"},
    {"key":"no-grind","text":"Leave the welds as they are. Do not grind them smooth for looks.","why":"Grinding takes the strength off and hides cracks.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-77 to 4-82 (from memory)"},{"key":"line-after","text":"Measure between the two fixed points again.","why":"Compare with the first reading.","cautions":[],"hold":{"unit":"in","limit_kind":"record","limit":null,"ask":"Length between the two points","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-91 (from memory)"},
    {"key":"look-round","text":"Look at the next joints again for new cracks or bends.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"watch-end","text":"End the fire watch. Look behind panels and under the car.","why":"","cautions":[{"text":"OSHA 1910.252: watch 30 minutes or more after the last arc. NFPA 51B has asked 60 since 2019 (from memory).","source":"OSHA 1910.252; NFPA 51B (from memory)"}],"hold":{"unit":"s","limit_kind":"at least","limit":"1800","ask":"Time watched since the last arc","high":null,"role":"length"},"timer":null,"skippable":false,"basis":"OSHA 1910.252"},
    {"key":"show-inspector","text":"Show the bare welds to the inspector before any paint.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"oil-inside","text":"If the builder wants oil inside, put it in now. Then close the vent.","why":"","cautions":[{"text":"It looks cold long before it is. Back of the hand near it first.","source":"common practice, no source"}],"hold":null,"timer":null,"skippable":true,"basis":"from memory"},
    {"key":"paint","text":"Paint the bare metal after the inspector has seen it.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"keep-offcut","text":"Keep the offcut. Mark it with the heat number and this record's number.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"fix-tag","text":"Fix the tag beside the repair, not on the weld.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"plug-in","text":"Plug electronics back in, battery last. Check lines and fuel for leaks.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"read-record","text":"Read the record through with the crew chief.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"look-later","text":"Look for cracks again after the first run.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"ask-rules","text":"Ask the inspector if the rule book allows this repair here.","why":"Rule book, chassis builder and inspector outrank this list.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"seam","text":"Feel inside the tube for a weld bead. A bead stops an inner sleeve.","why":"Electric-welded tube often has one.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"sleeve-stock","text":"Take the sleeve stock: {sleeve}. Same material. Wall no thinner.","why":"A thinner wall needs the inspector's agreement on the record.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-95 (from memory)"},{"key":"clearance","text":"Measure the tube inside and the sleeve outside. Take one from the other.","why":"","cautions":[],"hold":{"unit":"in","limit_kind":"at most","limit":"1/16","ask":"Tube inside minus sleeve outside, diameters","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-95"},
    {"key":"blank","text":"Cut the sleeve to length: {blank_length}.","why":"","cautions":[{"text":"Eye and ear protection. Keep the sparks off the car and off you.","source":"common practice, no source"}],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"deburr","text":"Deburr the ends. The sleeve must slide in the tube.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"mark-middle","text":"Scribe a line round the middle of each sleeve.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"cut-out","text":"Cut the damage out on the slant, 30° to the tube, past every crack.","why":"","cautions":[{"text":"Eye and ear protection. Keep the sparks off the car and off you.","source":"common practice, no source"}],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-95 (from memory)"},
    {"key":"replacement","text":"Cut the replacement on the same slant: {tube}. Leave 1/8 in at each cut.","why":"Same material and diameter, wall no thinner.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-95"},{"key":"square-ends","text":"Deburr the cut ends inside and outside.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"slide-in","text":"Slide the sleeves all the way into the replacement.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"bear","text":"Set the replacement in line between the stubs.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-95 (from memory)"},
    {"key":"centre","text":"Draw each sleeve out until its middle line shows in the cut.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"gap","text":"Measure the gap at each cut.","why":"The weld goes through the gap into the sleeve.","cautions":[],"hold":{"unit":"in","limit_kind":"between","limit":"3/32","ask":"Gap furthest from 1/8 in","high":"5/32","role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-95 for 1/8 in; 1/32 in each way is common practice, no source"},
    {"key":"overlap","text":"Measure the reach of each sleeve past the nearest end of its slanted cut.","why":"","cautions":[],"hold":{"unit":"in","limit_kind":"at least","limit":"overlap","ask":"Shortest reach of all the ends","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-95 (from memory)"},{"key":"tack","text":"Tack each cut in two places, or more if it moves.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"first-gap","text":"Weld the first gap all round, down into the sleeve.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-95 (from memory)"},{"key":"first-craters","text":"Fill the crater. Look for cracks while you can still reach.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"first-cool","text":"Stop. Let this weld cool completely. Touch test: no warmth.","why":"","cautions":[{"text":"It looks cold long before it is. Back of the hand near it first.","source":"common practice, no source"},{"text":"4130 cracks when chilled. Sources differ on preheat for thin walls: ask the qualified welder.","source":"from memory"}],"hold":null,"timer":{"seconds":900,"text":"Reminder; the touch test decides"},"skippable":false,"basis":"common practice, no source"},{"key":"second-gap","text":"Weld the second gap all round, down into the sleeve.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-95 (from memory)"},
    {"key":"second-craters","text":"Fill the crater. Look for cracks while you can still reach.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"no-bracket","text":"Check for clusters and brackets that need the old diameter. If found, stop.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97"},
    {"key":"sleeve-stock","text":"Take the replacement stock: {sleeve}. Same material. Wall no thinner.","why":"A thinner wall needs the inspector's agreement on the record.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"clearance","text":"Measure the new tube inside and the old outside. Take one from the other.","why":"","cautions":[],"hold":{"unit":"in","limit_kind":"at most","limit":"1/16","ask":"New inside minus old outside, diameters","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97"},
    {"key":"blank","text":"Cut the replacement to length: {blank_length}.","why":"","cautions":[{"text":"Eye and ear protection. Keep the sparks off the car and off you.","source":"common practice, no source"}],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"end-shape","text":"Cut both ends. Shape: {end_shape}. Saw mitre from square: {mitre}.","why":"A fishmouth wherever it can be had.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97"},
    {"key":"deburr","text":"Deburr inside and outside. It must slide on the stubs.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"cut-out","text":"Cut the damage out, square to the tube, past every crack.","why":"","cautions":[{"text":"Eye and ear protection. Keep the sparks off the car and off you.","source":"common practice, no source"}],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97"},
    {"key":"short-stub","text":"Measure the short stub from its joint to the cut.","why":"","cautions":[],"hold":{"unit":"in","limit_kind":"at least","limit":"short_stub","ask":"Length of the short stub","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97 (2.5 D)"},{"key":"long-stub","text":"Measure the long stub from its joint to the cut.","why":"","cautions":[],"hold":{"unit":"in","limit_kind":"at least","limit":"long_stub","ask":"Length of the long stub","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97 (4.5 D)"},
    {"key":"square-ends","text":"File the stub ends square. Deburr inside and outside.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97"},{"key":"mark-reach","text":"Mark the reach on each stub, back from its cut: {overlap}.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97"},
    {"key":"slide-on","text":"Slide the replacement all the way onto the long stub.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97 (from memory)"},{"key":"bear","text":"Set the stubs in line. Slide the replacement back over the short stub.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97 (from memory)"},
    {"key":"overlap","text":"Measure the reach past each cut, nearest metal.","why":"Nearest metal is the crotch of a fishmouth.","cautions":[],"hold":{"unit":"in","limit_kind":"at least","limit":"overlap","ask":"Shorter reach of the two ends","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97"},{"key":"centre","text":"Turn the replacement until its tips are on the drawing's line.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"tack","text":"Tack each end in two places.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"first-end","text":"Weld one end all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97"},
    {"key":"first-cool","text":"Stop. Let this end cool completely. Touch test: no warmth.","why":"Heat at both ends at once pulls the frame.","cautions":[{"text":"It looks cold long before it is. Back of the hand near it first.","source":"common practice, no source"},{"text":"4130 cracks when chilled. Sources differ on preheat for thin walls: ask the qualified welder.","source":"from memory"}],"hold":null,"timer":{"seconds":900,"text":"Reminder; the touch test decides"},"skippable":false,"basis":"AC 43.13-1B 4-97"},{"key":"second-end","text":"Weld the other end all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-97"},
    {"key":"crack-ends","text":"Find both ends of every crack. Strong light and a lens.","why":"A crack that runs into a joint is another repair.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"sleeve-stock","text":"Take the sleeve stock: {sleeve}. Same material. Wall no thinner.","why":"Its inside is about the tube's outside.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-92"},
    {"key":"end-shape","text":"Cut both ends 30° to the tube. Saw mitre from square: {mitre}.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-92"},{"key":"split","text":"Saw the sleeve in two along its length. Mark the halves.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-92"},
    {"key":"deburr","text":"Deburr every edge. Bevel the two long seams for weld.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"bevel: common practice, no source"},{"key":"brace","text":"Brace the frame across the damage.","why":"Heat and straightening move the frame.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"straighten","text":"Straighten the tube. Look for new cracks.","why":"","cautions":[{"text":"Filling the dent with rod instead of a sleeve is not acceptable to the circular.","source":"AC 43.13-1B 4-92"}],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-92"},{"key":"stop-drill","text":"Drill a No. 40 hole (0.098 in) at each end of every crack.","why":"The hole stops the crack. No crack: skip and say so.","cautions":[],"hold":{"unit":"in","limit_kind":"between","limit":"49/500","ask":"Size of the drill used (No. 40 is .098 in)","high":"1/8","role":"diameter"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-92 for No. 40; the upper limit 1/8 in is common practice, no source"},
    {"key":"mark-reach","text":"Mark the reach past the damage on both sides: {overlap}.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-92"},{"key":"clamp-halves","text":"Clamp both halves round the tube over the damage.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"seat","text":"Check that the halves sit on the tube all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"seams","text":"Turn the seams where you can reach both.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"overlap","text":"Measure the reach past the damage on both sides, nearest metal.","why":"","cautions":[],"hold":{"unit":"in","limit_kind":"at least","limit":"overlap","ask":"Shorter reach of the two sides","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-92"},{"key":"tack","text":"Tack the halves together and to the tube.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"first-seam","text":"Weld one long seam.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-92; order: common practice, no source"},{"key":"second-seam","text":"Weld the other long seam.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-92; order: common practice, no source"},
    {"key":"first-end","text":"Weld one end all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-92"},{"key":"first-cool","text":"Stop. Let this end cool completely. Touch test: no warmth.","why":"","cautions":[{"text":"It looks cold long before it is. Back of the hand near it first.","source":"common practice, no source"},{"text":"4130 cracks when chilled. Sources differ on preheat for thin walls: ask the qualified welder.","source":"from memory"}],"hold":null,"timer":{"seconds":900,"text":"Reminder; the touch test decides"},"skippable":false,"basis":"common practice, no source"},
    {"key":"second-end","text":"Weld the other end all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-92"},{"key":"second-craters","text":"Fill the craters. Look for cracks while you can still reach.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"no-crack","text":"Look for cracks and sharp corners in the dent. If found, stop: no patch.","why":"","cautions":[],"hold":null,"timer":null,"skippable":false,"basis":"AC 43.13-1B 4-94"},{"key":"middle-third","text":"Check that no part of the patch falls in the middle third of the tube.","why":"","cautions":[],"hold":null,"timer":null,"skippable":false,"basis":"AC 43.13-1B 4-94 (from memory)"},
    {"key":"no-joint","text":"Check that the patch does not cover a joint.","why":"","cautions":[],"hold":null,"timer":null,"skippable":false,"basis":"AC 43.13-1B 4-94 (from memory)"},{"key":"damage-length","text":"Measure the damage along the tube.","why":"","cautions":[],"hold":{"unit":"in","limit_kind":"at most","limit":"od","ask":"Length of the dent or hole","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-94"},
    {"key":"damage-round","text":"Measure the damage round the tube with a tape.","why":"","cautions":[],"hold":{"unit":"in","limit_kind":"at most","limit":"quarter_round","ask":"Width of the dent or hole round the tube","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-94"},{"key":"damage-depth","text":"Measure the depth of the dent. For a clean hole type 0.","why":"","cautions":[],"hold":{"unit":"in","limit_kind":"at most","limit":"tenth_od","ask":"Depth of the dent","high":null,"role":"length"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-94"},
    {"key":"patch-stock","text":"Take the patch stock: {sleeve}. Same material as the tube.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-94"},{"key":"heat-number","text":"Write its heat number on the stock and on the offcut before you cut.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"patch-wall","text":"Measure the wall of the patch. It must be one gauge thicker than the tube.","why":"","cautions":[],"hold":{"unit":"in","limit_kind":"at least","limit":"patch_wall","ask":"Wall of the patch","high":null,"role":"wall"},"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-94"},{"key":"cut-patch","text":"Cut the patch to the drawing: {blank_length}.","why":"","cautions":[{"text":"Eye and ear protection. Keep the sparks off the car and off you.","source":"common practice, no source"}],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"form-patch","text":"Form the patch until it lies on the tube all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"deburr","text":"Deburr the edges. Round the corners.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"brace","text":"Brace the frame across the damage.","why":"Heat moves the frame.","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"reform","text":"Work the dent back to shape. If it cracks, stop: no patch.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-94"},
    {"key":"tack","text":"Tack the patch at its four corners.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},{"key":"lie","text":"Check that the patch still lies on the tube all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"common practice, no source"},
    {"key":"first-end","text":"Weld one half of the edge.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"order: common practice, no source"},{"key":"first-cool","text":"Stop. Let it cool completely. Touch test: no warmth.","why":"","cautions":[{"text":"It looks cold long before it is. Back of the hand near it first.","source":"common practice, no source"},{"text":"4130 cracks when chilled. Sources differ on preheat for thin walls: ask the qualified welder.","source":"from memory"}],"hold":null,"timer":{"seconds":900,"text":"Reminder; the touch test decides"},"skippable":false,"basis":"common practice, no source"},
    {"key":"second-end","text":"Weld the other half. Close the weld all round.","why":"","cautions":[],"hold":null,"timer":null,"skippable":true,"basis":"AC 43.13-1B 4-94"},
  ],
};

export const tag = {
  ALPHABET: "23456789ABCDEFGHJKMNPQRSTUVWXYZ",
  ID_LENGTH: 8,
  WEIGHTS: [8,7,6,5,4,3,2,1],
  ID_COUNT: 27512614111,
  LONGEST_TYPED: 2000,
  HEAD: "PITSPLICE",
  DEMO: "DEMO",
  KEYS: {"tube":"TUBE","sleeve":"SLEEVE","end":"END","mitre_deg":"MITRE","length":"LEN","date":"DATE","method":"METHOD"},
  ID_SHAPE: "8 characters from 2-9 and A-Z without I, L and O, such as 7K3M-9QX3",
  LOOK_AGAIN: {"0":["There is no O or 0 in an id.","Look for a Q, D, C or G there."],"O":["There is no O or 0 in an id.","Look for a Q, D, C or G there."],"1":["There is no I, L or 1 in an id.","Look for a T, J or 7 there."],"I":["There is no I, L or 1 in an id.","Look for a T, J or 7 there."],"L":["There is no I, L or 1 in an id.","Look for a T, J or 7 there."]},
};

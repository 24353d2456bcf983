/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The texts of files to start from. A @ stands for the code that the author chose, a $ for that of the
 * course. */
#ifndef BARWRIGHT_CMD_START_TEXTS_H
#define BARWRIGHT_CMD_START_TEXTS_H

/* One line here is one line of the file. */
/* clang-format off */

static const char start_problem[] =
	"# A task whose numbers are drawn anew for each student. Change it line by line and look at it after\n"
	"# each change:  barwright check FILE    barwright show FILE\n"
	"problem: @\n"
	"title: Bar from the sheet\n"
	"competency: K1                 # a code of course.yaml\n"
	"level: 1                       # 1, 2 or 3\n"
	"source: Course value.          # where formula and numbers come from\n"
	"\n"
	"draws:                         # drawn anew; a reading: from, to and step of the instrument\n"
	"  length: {from: 40.0 mm, to: 60.0 mm, step: 0.5 mm}\n"
	"  allowance: {choice: [1.0 mm, 1.5 mm, 2.0 mm], exact: true}   # given, not measured\n"
	"\n"
	"let:                           # worked out from what stands above\n"
	"  both: {formula: 2 * allowance, unit: mm, places: 1}\n"
	"\n"
	"require:                       # conditions a task must meet; may be left out\n"
	"  - length > 10 * both\n"
	"\n"
	"text: |\n"
	"  A bar {length} long is sawn out. At each end {allowance} are left for grinding. How long a piece is marked?\n"
	"\n"
	"asks:\n"
	"  - ask: Length to mark\n"
	"    unit: mm\n"
	"    places: 1\n"
	"    answer: length + both\n"
	"    steps:                     # the worked solution; the last step gives the answer\n"
	"      - say: Both ends need an allowance.\n"
	"        name: both\n"
	"        formula: 2 * allowance\n"
	"        unit: mm\n"
	"        places: 1\n"
	"      - say: It is added to the length.\n"
	"        name: marked\n"
	"        formula: length + both\n"
	"        unit: mm\n"
	"        places: 1\n"
	"    slips:                     # mistakes that students make, and what to tell them\n"
	"      - slip: one-end\n"
	"        with: {both: allowance}              # the rest is done right\n"
	"        say: The allowance was added at one end only. There are two ends.\n"
	"      - slip: allowance-forgotten\n"
	"        formula: length\n"
	"        say: This is the finished length. Sawn to it, nothing is left to grind.\n"
	"      - slip: taken-off\n"
	"        formula: length - both\n"
	"        say: The allowance was taken off. It is added, and ground away later.\n";

static const char start_item[] =
	"# A question that draws nothing; its options are shuffled for each student.\n"
	"# kind: choice (one is right), choices (several), order, match, number or time: see courses/README.md\n"
	"item: @\n"
	"title: Before the first cut\n"
	"competency: K1                 # a code of course.yaml\n"
	"level: 1                       # 1, 2 or 3\n"
	"source: Common practice of the trade.\n"
	"text: The prescription names a stock that the workshop does not have. What now?\n"
	"kind: choice\n"
	"options:\n"
	"  - option: Ask the prescriber before anything is cut\n"
	"    right: true\n"
	"  - option: Take the next thinner stock\n"
	"    slip: changed-without-asking             # the code of a mistake; may be left out\n"
	"    say: A thinner bar bends more and breaks sooner. Whoever prescribed it decides.\n"
	"  - option: Take the next thicker stock\n"
	"    slip: changed-without-asking\n"
	"    say: It may not fit below the teeth. Whoever prescribed it decides.\n"
	"explain: What the prescription says is changed by whoever wrote it, in writing.\n";

static const char start_lesson[] =
	"# Pages of teaching text.\n"
	"lesson: @\n"
	"title: Title of the lesson\n"
	"pages:\n"
	"  - title: First page\n"
	"    body:                      # each entry: heading, text, item, exact, caution, source or figure\n"
	"      - text: |\n"
	"          A paragraph. Say what the students will be able to do, then show it.\n"
	"      - item: One entry of a list.\n"
	"      - item: The next.\n"
	"      - exact: |\n"
	"          marked = length + 2 x allowance\n"
	"      - caution: >             # what can hurt somebody or spoil a case\n"
	"          Sawing laminate throws dust: local extraction, respirator, eye protection. Local rules and the\n"
	"          supplier's sheet go first.\n"
	"      - source: Where this comes from. Say so when it is a value of your course.\n";

static const char start_module[] =
	"# A folder with lessons, tasks and questions. Its code is the name of the folder.\n"
	"module: @\n"
	"title: Title of the module\n"
	"about: One or two sentences that students see.\n"
	"lessons: [lesson.yaml]\n"
	"problems: [first-task.yaml]    # files with tasks, in this folder\n"
	"items: [first-question.yaml]   # files with fixed questions\n";

static const char start_course[] =
	"# What makes a folder a course.\n"
	"course: @\n"
	"title: Title of the course\n"
	"about: One or two sentences that students see.\n"
	"version: \"1\"                   # change it when you change tasks\n"
	"language: en\n"
	"competencies:                  # what a student can do in the end\n"
	"  K1: Reads a prescription and works to it\n"
	"modules: [first]               # the folders, in the order in which they are learnt\n";

static const char start_rubric[] =
	"# What an examiner looks at when work at the bench is rated.\n"
	"rubric: @\n"
	"title: Bench examination\n"
	"about: What the examiner looks at. Tolerances are values of this course.\n"
	"points: [0, 40, 75, 100]       # of the four levels\n"
	"stations:\n"
	"  - station: length\n"
	"    title: Length of the bar\n"
	"    weight: 100                # per cent; all stations together 100\n"
	"    competency: K1\n"
	"    source: Course value.\n"
	"    criteria:\n"
	"      - criterion: Length over all\n"
	"        instrument: caliper\n"
	"        levels:                # four, the lowest first: unusable, below, competent, excellent\n"
	"          - off by more than 1.0 mm\n"
	"          - within 1.0 mm\n"
	"          - within 0.5 mm\n"
	"          - within 0.2 mm\n"
	"    critical:                  # any one of these fails the station\n"
	"      - sawn without extraction or eye protection\n";

static const char start_assessment[] =
	"# A graded assessment. It stands in the folder \"assessments\" of its course; to try it:\n"
	"#     barwright sit @\n"
	"assessment: @\n"
	"title: Title of the assessment\n"
	"about: What candidates read before they begin.\n"
	"course: $\n"
	"time: 20 min\n"
	"pass: 60 %                     # of all points; every task is worth one\n"
	"attempts: 2                    # how often a candidate may sit it\n"
	"wait: 24 h                     # before the next attempt\n"
	"tools: [paper and pencil, pocket calculator]\n"
	"sections:\n"
	"  - section: All of it\n"
	"    items:\n"
	"      - {competency: K1, level: 1, items: 1}      # drawn for each candidate, from the course\n"
	"      - {item: first-question, critical: true}    # this one for everybody; it must be wholly right\n"
	"competencies:                  # a cut of their own; may be left out\n"
	"  - {competency: K1, pass: 50 %}\n";

static const char start_case[] =
	"# A case for 'barwright work': lengths in mm, heights above the datum.\n"
	"case: @\n"
	"jaw: lower                     # upper or lower\n"
	"axes: {x: left, y: front}      # seen from the occlusal side\n"
	"sites:                         # from the patient's right to left\n"
	"  - {tooth: 45, x: -17.0, y: -12.0, diameter: 4.1, platform: 0.0, tissue: 2.5, matrix: 15.6, cylinder: 12.0}\n"
	"  - {tooth: 43, x: -10.5, y: -3.5, diameter: 4.1, platform: 0.0, tissue: 2.2, matrix: 15.9, cylinder: 12.0}\n"
	"  - {tooth: 33, x: 10.0, y: -3.0, diameter: 4.1, platform: 0.0, tissue: 2.3, matrix: 15.8, cylinder: 12.0}\n"
	"  - {tooth: 35, x: 17.5, y: -12.5, diameter: 4.1, platform: 0.0, tissue: 2.4, matrix: 15.5, cylinder: 12.0}\n"
	"space: {clearance: 1.5, opaque: 0.3, resin: 2.0, tooth: 4.0, cover: 2.0}\n"
	"bar: {stock: [3.5, 4.0, 4.5, 5.0], width: 8.0, modulus: 20 GPa, shear_modulus: 4 GPa, strength: 400 MPa}\n"
	"extension: {right: 8.0, left: 8.0}     # along the bar, from the distal surface\n"
	"rules: {spread: distal-surface, factor: 1.5, cap: 15 mm, minimum_thickness: 3.5 mm, engagement: 4.0 mm, safety: 2.5}\n"
	"loads:\n"
	"  - {force: 100 N, at: left-end}\n"
	"supports: {stiffness: 5000 N/mm}\n";

/* clang-format on */

#endif

import { readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { loadSource } from "./loadSource.js";
import { functionFiles, functionsMetadata } from "./metadata.js";
import { ROOT } from "./sources.js";

const NOTE = "<!-- Made by `npm run docs` from the sources. Change those, not this page. -->";
const TEST_WORDS = { CMJ: "countermovement jump", SJ: "squat jump", DJ: "drop jump", RH: "repeated hops", IMTP: "isometric mid-thigh pull" };

/**
 * The reference pages, written from the one place that knows each thing: the docblocks of the cell functions, the
 * catalogue, the settings, the rules and the wording. The same sources give the same bytes.
 *
 * @returns {Promise<Map<string, string>>} Markdown by path from `docs/`.
 */
export async function referencePages() {
  const { METRICS, metricsOf } = await loadSource("src/catalogue/metrics.ts");
  const { metricFormula } = await loadSource("src/catalogue/metricFormula.ts");
  const { REFERENCES, fullReference, citation, namedSources, referencesIn } = await loadSource("src/catalogue/references.ts");
  const { unitsOf } = await loadSource("src/catalogue/units.ts");
  const { SETTINGS } = await loadSource("src/settings/definitions.ts");
  const { RULES } = await loadSource("src/quality/rules.ts");
  const { textsOf } = await loadSource("src/wording/textsOf.ts");
  const { pageTextsOf } = await loadSource("src/wording/pageTextsOf.ts");
  const { keysOf } = await loadSource("src/wording/fillTemplate.ts");
  const { ASYMMETRY_FORMULAS } = await loadSource("src/metrics/asymmetry.ts");
  const { POWER_EQUATIONS } = await loadSource("src/metrics/powerEstimate.ts");
  const texts = { ...textsOf(), ...pageTextsOf() };
  const cite = (key) => (REFERENCES[key] ? `[${citation(key)}](sources.md#${key})` : key);
  // The last names first, so that the places of the others stay; two sources with one name (two papers of a year) share a link.
  const citeText = (text) =>
    namedSources(text).reduceRight(
      ({ linked, from }, { key, start, end }) =>
        end > from ? { linked, from } : { linked: `${linked.slice(0, start)}[${linked.slice(start, end)}](sources.md#${key})${linked.slice(end)}`, from: start },
      { linked: text, from: text.length },
    ).linked;

  return new Map([
    ["reference/functions.md", functionsPage(await functionsMetadata(), docblocks(), examples())],
    ["reference/metrics.md", metricsPage({ METRICS, metricsOf, metricFormula, unitsOf, cite, texts })],
    ["reference/settings.md", settingsPage({ SETTINGS, citeText })],
    ["reference/formulas.md", formulasPage({ ASYMMETRY_FORMULAS, POWER_EQUATIONS, citeText })],
    ["reference/rules.md", rulesPage({ RULES, SETTINGS, texts, keysOf })],
    ["reference/uncertainty.md", uncertaintyPage({ texts, SETTINGS })],
    ["reference/terms.md", termsPage({ texts, cite })],
    ["reference/cues.md", cuesPage(texts)],
    ["reference/cautions.md", cautionsPage(texts)],
    ["reference/sources.md", sourcesPage({ METRICS, SETTINGS, ASYMMETRY_FORMULAS, POWER_EQUATIONS, texts, REFERENCES, fullReference, referencesIn })],
  ]);
}

// ---- Cell functions

/** Families of cell functions by the file that declares them, in the order of the page. */
const FAMILIES = {
  analysis: "Trials",
  traces: "Traces",
  heights: "Heights, velocities, gravity",
  times: "Times from mats and video",
  ratios: "Protocols, ratios, sides",
  reliability: "Reliability",
  change: "Change and monitoring",
  profiles: "Profiles",
  words: "Words",
  teaching: "Teaching",
};

function functionsPage({ functions }, blocks, examplesById) {
  const families = [...new Set([...Object.keys(FAMILIES), ...functions.map(({ id }) => blocks.get(id)?.family)])].filter((family) =>
    functions.some(({ id }) => blocks.get(id)?.family === family),
  );
  const lines = [
    "# Cell functions",
    "",
    NOTE,
    "",
    "A trace is one to four packed cells, or a range of numbers: one column (the sum), two (left, right) or three (time, left, right).",
    "Optional arguments stand in square brackets. Numbers are in SI units. A cell that a function cannot fill says why: `#VALUE!` for",
    "an argument that is wrong, `#N/A` for what the recording cannot give; the sentence is shown with the error.",
    "",
    ...families.flatMap((family) => [
      `**${FAMILIES[family] ?? capital(family)}**`,
      "",
      "| function | gives |",
      "| --- | --- |",
      ...functions
        .filter(({ id }) => blocks.get(id)?.family === family)
        .map(({ id, description }) => `| [\`LEAP.${id}\`](#${id.toLowerCase()}) | ${cell(firstSentence(description))} |`),
      "",
    ]),
  ];
  for (const definition of functions) {
    const { id, description, parameters } = definition;
    const shown = parameters.map(({ name, optional }) => (optional ? `[${name}]` : name)).join(", ");
    lines.push(`## <a id="${id.toLowerCase()}"></a>LEAP.${id}`, "", "```", `LEAP.${id}(${shown})`, "```", "", description, "");
    if (parameters.length > 0) {
      lines.push("| argument | what it is |", "| --- | --- |");
      lines.push(...parameters.map(({ name, optional, description: text }) => `| \`${name}\`${optional ? ", optional" : ""} | ${cell(text)} |`), "");
    }
    if (blocks.get(id)?.returns) lines.push(`Gives: ${blocks.get(id).returns}`, "");
    const example = examplesById.get(id);
    if (example) lines.push(...exampleLines(example));
  }
  return page(lines);
}

/** What the metadata does not hold: what each function returns, and the file it stands in. */
function docblocks() {
  const found = new Map();
  for (const file of functionFiles()) {
    for (const [block] of readFileSync(file, "utf8").matchAll(/\/\*\*[\s\S]*?\*\//g)) {
      const id = /@customfunction\s+(\S+)/i.exec(block)?.[1];
      const text = /@returns\s+([\s\S]*?)(?=\n\s*\*\s*@|\n?\s*\*\/)/.exec(block)?.[1];
      if (id) found.set(id, { family: basename(file, ".ts"), returns: text?.replace(/\s*\n\s*\*\s*/g, " ").trim() });
    }
  }
  return found;
}

/** The first formula of the tests with a result, by function: these examples run in every host. */
function examples() {
  const found = new Map();
  for (const { formula, expect, source } of JSON.parse(readFileSync(join(ROOT, "tests", "formulas.json"), "utf8"))) {
    const id = /^=LEAP\.([A-Z0-9_]+)\(/.exec(formula)?.[1];
    if (!id || found.has(id) || expect === undefined || formula.length > 200) continue;
    const rows = Array.isArray(expect) ? expect : [[expect]];
    if (rows.some((row) => row.some((value) => value === null || String(value).length > 80))) continue;
    found.set(id, { formula, source, rows: rows.map((row) => row.map((value) => (typeof value === "number" ? Number(value.toPrecision(6)) : value))) });
  }
  return found;
}

function exampleLines({ formula, source, rows }) {
  const [[first]] = rows;
  if (rows.length === 1 && rows[0].length === 1) return [`Example: \`${formula}\` gives \`${first}\` (${source}).`, ""];
  const head = rows[0].map((_, column) => (column === 0 ? "gives" : ""));
  const line = (cells) => `| ${cells.map((value) => cell(value === "" ? "" : value)).join(" | ")} |`;
  return [`Example (${source}):`, "", "```", formula, "```", "", line(head), line(head.map(() => "---")), ...rows.map(line), ""];
}

// ---- Metrics

function metricsPage({ METRICS, metricsOf, metricFormula, unitsOf, cite, texts }) {
  const lines = [
    "# Metrics",
    "",
    NOTE,
    "",
    "The name of a metric is written in any case, with spaces or underscores, and may end in a unit: `jumpHeight cm`, `time to take-off ms`.",
    "Without a unit the value is in SI units. Where the table of a metric says so, there are more forms of it:",
    "",
    "| form | means |",
    "| --- | --- |",
    `| \`…Left\`, \`…Right\` | ${texts.explain.left.replace("left ", "named ")} Forces and impulses of a side are gross. |`,
    `| \`…Relative\` | ${texts.explain.relative} |`,
    `| \`…Net\` | ${texts.explain.net} Never together with a side. |`,
    `| \`…Asymmetry\` | ${texts.explain.asymmetry} |`,
    "",
    "## By test",
    "",
  ];
  for (const [test, words] of Object.entries(TEST_WORDS)) {
    lines.push(`**${capital(words)} (${test})**: ${metricsOf(test).map(({ id }) => `[${id}](#${id})`).join(" · ")}`, "");
  }
  for (const metric of METRICS) {
    const { id, name, unit, tests, needs, definition, assumptions, watchFor, range, sources, forms, better } = metric;
    const formNames = [...(forms.sides ? ["Left", "Right"] : []), ...(forms.relative ? ["Relative"] : []), ...(forms.net ? ["Net"] : []), ...(forms.asymmetry ? ["Asymmetry"] : [])];
    const others = unitsOf(unit).filter((other) => other !== unit);
    lines.push(
      `## <a id="${id}"></a>${name}`,
      "",
      definition,
      "",
      "$$",
      metricFormula(id),
      "$$",
      "",
      "| | |",
      "| --- | --- |",
      `| id | \`${id}\` |`,
      `| unit | ${unit || "none"}${others.length ? `; also ${others.join(", ")}` : ""} |`,
      `| tests | ${tests.join(", ")} |`,
      ...(formNames.length ? [`| forms | ${formNames.join(", ")} |`] : []),
      `| needs | ${needs.length ? needs.map((group) => texts.groups[group]).join("; ") : "the force alone"} |`,
      ...(better === "neither" ? [] : [`| better | ${better} |`]),
      ...(range ? [`| usual size | ${range.text} (${range.source === "common practice" ? "common practice" : cite(range.source)}), healthy trained adults; a value outside is a reason to look at the trace, not an error |`] : []),
      `| source | ${sources.map(cite).join("; ")} |`,
      "",
      ...(assumptions.length ? ["Assumes:", "", ...assumptions.map((text) => `- ${text}`), ""] : []),
      ...(watchFor.length ? ["Watch for:", "", ...watchFor.map((text) => `- ${text}`), ""] : []),
    );
  }
  return page(lines);
}

// ---- Settings and formulas

function settingsPage({ SETTINGS, citeText }) {
  const lines = [
    "# Settings",
    "",
    NOTE,
    "",
    "Every choice on which the literature disagrees, every limit of a quality rule and every input of an uncertainty budget. They stand on",
    "the sheet *Settings*, where they are read and changed; the command takes them as `--set id=value`. A setting always holds a value:",
    "*none* is a word. A result that was recorded keeps the digest of the settings it was made with.",
    "",
    "| setting | default |",
    "| --- | --- |",
    ...SETTINGS.map((setting) => `| [\`${setting.id}\`](#${setting.id}) ${cell(setting.label)} | ${cell(withUnit(setting.default, setting.unit))} |`),
    "",
  ];
  for (const { id, label, default: value, options = [], range, unit, description, source, tests } of SETTINGS) {
    const allowed = [...(range ? [`${range[0]} to ${range[1]}${unit ? ` ${unit}` : ""}`] : []), ...options].join(", ");
    lines.push(
      `## <a id="${id}"></a>${label}`,
      "",
      description,
      "",
      "| | |",
      "| --- | --- |",
      `| id | \`${id}\` |`,
      `| default | ${cell(withUnit(value, unit))} |`,
      `| allowed | ${cell(allowed)} |`,
      `| tests | ${tests ? tests.join(", ") : "all"} |`,
      `| source | ${cell(citeText(source))} |`,
      "",
    );
  }
  return page(lines);
}

function formulasPage({ ASYMMETRY_FORMULAS, POWER_EQUATIONS, citeText }) {
  return page([
    "# Named formulas",
    "",
    NOTE,
    "",
    "## <a id=\"asymmetry\"></a>Asymmetry",
    "",
    "L is left, R is right, D the larger side (or the dominant one, where it is entered) and N the other. Both sides must be above zero.",
    "Every signed percentage is positive when left is higher, whatever the sign in print. The same pair of sides gives a different number",
    "by each formula: the name of the formula belongs beside the number, and thresholds do not carry over from one to another.",
    "",
    "| name | formula | on L 800, R 700 | also | source |",
    "| --- | --- | --- | --- | --- |",
    ...ASYMMETRY_FORMULAS.map(({ name, formula, compute, sameAs, note, source }) => {
      const other = sameAs ? `as ${ASYMMETRY_FORMULAS.find(({ id }) => id === sameAs)?.name.toLowerCase()}, while D is the larger side` : "";
      return `| ${cell(name)} | \`${formula}\` | ${round(compute(800, 700, "left"))} % | ${cell([other, note].filter(Boolean).join(". "))} | ${cell(citeText(source))} |`;
    }),
    "",
    "## <a id=\"power\"></a>Power from height and mass",
    "",
    "Height in cm, body mass in kg, stature in cm, power in W. They describe groups of people; they are not for the change of one person, and",
    "never to be mixed with power from force and velocity.",
    "",
    "| name | equation | at 40 cm, 75 kg, 178 cm | note | source |",
    "| --- | --- | --- | --- | --- |",
    ...POWER_EQUATIONS.map(({ name, quantity, perCentimetre, perKilogram, perStatureCentimetre, constant, note, source }) => {
      const terms = [`${perCentimetre} h`, `${perKilogram} m`, ...(perStatureCentimetre ? [`${perStatureCentimetre} stature`] : []), String(constant)];
      const value = perCentimetre * 40 + perKilogram * 75 + (perStatureCentimetre ?? 0) * 178 + constant;
      return `| ${cell(name)} (${quantity}) | \`${terms.join(" + ").replace(/\+ -/g, "- ")}\` | ${round(value)} W | ${cell(note)} | ${cell(citeText(source))} |`;
    }),
  ]);
}

// ---- Rules, cautions, sources

function rulesPage({ RULES, SETTINGS, texts, keysOf }) {
  const lines = [
    "# Quality rules",
    "",
    NOTE,
    "",
    "A rule looks at one thing of a recording. What it finds is a note, a correction, a reason to look, or a reason to leave the trial out; a",
    "rule that lacks its input is *not checked*, which is said too. A verdict never stops the computing: a trial to leave out still",
    "shows its numbers. What a rule removes is a group of metrics that this recording cannot give. The limits are settings.",
    "Nothing is deleted, and the decision to keep or leave out a trial is a person's.",
    "",
  ];
  const sentences = (id) => Object.entries(texts.findings).filter(([key]) => key === id || key.startsWith(`${id}.`)).map(([, template]) => template);
  const readable = (template) => template.replace(/\{(\w+)[^}]*\}/g, "…").replace(/\[([^\]]*)\]/g, (_, part) => (keysOf(part).length ? "" : part));
  const section = (id, title, asks, tests) => {
    const limits = SETTINGS.filter((setting) => setting.id.startsWith(`${id.toLowerCase()}-`));
    lines.push(
      `## <a id="${id}"></a>${title}`,
      "",
      ...(asks ? [asks, ""] : []),
      ...(tests === undefined ? [] : [`Tests: ${tests ? tests.join(", ") : "all"}.`, ""]),
      ...(limits.length ? [`Limits: ${limits.map((limit) => `[${limit.id}](settings.md#${limit.id}) (${withUnit(limit.default, limit.unit)})`).join(", ")}.`, ""] : []),
      "It may say:",
      "",
      ...sentences(id).map((template) => `- ${readable(template)}`),
      "",
    );
  };
  for (const [id, { title, asks }] of Object.entries(texts.rules)) {
    const rule = RULES.find((entry) => entry.id === id);
    section(id, `${id}: ${title}`, asks, rule ? rule.tests ?? null : undefined);
  }
  lines.push("## Other findings", "");
  for (const id of [...new Set(Object.keys(texts.findings).map((key) => key.split(".")[0]))].filter((name) => !texts.rules[name])) {
    lines.push(...sentences(id).map((template) => `- <a id="${id}"></a>${readable(template)}`));
  }
  return page(lines);
}

function uncertaintyPage({ texts, SETTINGS }) {
  const linked = (text) => SETTINGS.reduce((so, { id }) => so.replace(new RegExp(`(?<![\\w-])${id}(?![\\w-])`), `[${id}](settings.md#${id})`), text);
  return page([
    "# Uncertainty",
    "",
    NOTE,
    "",
    "A standard uncertainty is the root of the sum of squares of these contributions, each the effect on the metric of one thing that is not known",
    "exactly (JCGM 100:2008, see [sources](sources.md#jcgm2008)). A contribution reaches a metric by every way there is: body weight, for instance, through",
    "the velocity, the start of the phases and the mass; those ways are added with their signs before squaring.",
    "",
    "| contribution | what it is |",
    "| --- | --- |",
    ...Object.values(texts.uncertainty).map(({ name, says }) => `| ${name} | ${["onset-half-width", "landing-posture-mean", "gravity-u", "plate-gain-u"].some((id) => says.includes(id)) ? linked(says) : says} |`),
    "",
    "Not in it: what the person would do in another jump. For the change of a person use the typical error, which holds both.",
  ]);
}

function termsPage({ texts, cite }) {
  return page([
    "# Terms",
    "",
    NOTE,
    "",
    "Words that are not metrics of one trial. `LEAP.EXPLAIN` knows them too.",
    "",
    ...texts.terms.flatMap(({ names, text, sources }) => [
      `## <a id="${names[0].toLowerCase().replace(/[^a-z]+/g, "-")}"></a>${names[0]}`,
      "",
      ...(names.length > 1 ? [`Also: ${names.slice(1).join(", ")}.`, ""] : []),
      text,
      "",
      ...(sources.length ? [`Source: ${sources.map(cite).join("; ")}.`, ""] : []),
    ]),
  ]);
}

function cuesPage({ cues, tests }) {
  const lines = [
    "# Cue cards",
    "",
    NOTE,
    "",
    "How a test is set up and asked for. Common practice, in words that may be changed; use the same ones every time. Read",
    "[who may be tested](cautions.md) first.",
    "",
  ];
  for (const [test, { setUp, say, timing, repeatIf }] of Object.entries(cues)) {
    lines.push(`## ${tests[test]}`, "", "Set up:", "", ...setUp.map((text) => `- ${text}`), "", "Say:", "", ...say.map((text) => `- “${text}”`), "");
    lines.push(...timing, "", `Repeat if ${repeatIf.join("; ")}.`, "");
  }
  return page(lines);
}

function cautionsPage({ cautions, tests }) {
  const lines = ["# Who may be tested, and how results are read", "", NOTE, "", "## For every test", "", ...cautions.all.map((text) => `- ${text}`), ""];
  for (const [test, sentences] of Object.entries(cautions.byTest)) lines.push(`## ${tests[test]}`, "", ...sentences.map((text) => `- ${text}`), "");
  lines.push("## Where a result is read", "", ...cautions.result.map((text) => `- ${text}`), "", "All of this is common practice, without a single source.");
  return page(lines);
}

function sourcesPage({ METRICS, SETTINGS, ASYMMETRY_FORMULAS, POWER_EQUATIONS, texts, REFERENCES, fullReference, referencesIn }) {
  const lines = [
    "# Sources",
    "",
    NOTE,
    "",
    "Where nothing else is said, the abstract or the text was read while this was written. *From memory* means that it was not: check it",
    "before you cite a page or a number. *Title only* means that no more than the title was seen. Some titles are shortened.",
    "",
  ];
  for (const key of Object.keys(REFERENCES)) {
    const metrics = METRICS.filter(({ sources, range }) => sources.includes(key) || range?.source === key).map(({ id }) => `[${id}](metrics.md#${id})`);
    const settings = SETTINGS.filter(({ source }) => referencesIn(source).includes(key)).map(({ id }) => `[${id}](settings.md#${id})`);
    const formulas = [
      ...(ASYMMETRY_FORMULAS.some(({ source }) => referencesIn(source).includes(key)) ? ["[asymmetry formulas](formulas.md#asymmetry)"] : []),
      ...(POWER_EQUATIONS.some(({ source }) => referencesIn(source).includes(key)) ? ["[power equations](formulas.md#power)"] : []),
    ];
    const terms = texts.terms.filter(({ sources }) => sources.includes(key)).map(({ names }) => `[${names[0].toLowerCase()}](terms.md#${names[0].toLowerCase().replace(/[^a-z]+/g, "-")})`);
    const used = [...metrics, ...settings, ...formulas, ...terms];
    lines.push(`- <a id="${key}"></a>${fullReference(key)}${used.length ? ` Used by: ${used.join(", ")}.` : ""}`);
  }
  return page(lines);
}

const page = (lines) => `${lines.join("\n").trimEnd()}\n`;
const cell = (text) => String(text).replace(/\|/g, "\\|").replace(/\n/g, " ");
const capital = (text) => text[0].toUpperCase() + text.slice(1);
const firstSentence = (text) => /^.*?[.!?](?=\s|$)/.exec(text)?.[0] ?? text;
const withUnit = (value, unit) => (typeof value === "number" && unit ? `${value} ${unit}` : String(value));
const round = (value) => Number(value.toPrecision(5));

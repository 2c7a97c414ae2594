import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";

const G = 9.80665;
const FIRST = 2;

/**
 * A countermovement jump in ordinary spreadsheet formulas, as a flat OpenDocument sheet: a row a sample, a column a quantity, and
 * the same twenty values that the script gives. No checks, no uncertainty.
 */
export function nativeFormulas(trace) {
  const [left, right] = trace.plates.map(({ force }) => force);
  const n = left.length;
  const last = FIRST + n - 1;
  const column = (letter, from = FIRST, to = last) => `[.$${letter}$${from}:.$${letter}$${to}]`;
  const rowOf = (name) => RESULTS.findIndex(([id]) => id === name) + 1;
  const cell = (name) => `[.$L$${rowOf(name)}]`;
  /** From one row to another, both told by result cells. */
  const between = (letter, from, to) => `INDEX(${column(letter)};${cell(from)}):INDEX(${column(letter)};${cell(to)}-1)`;
  const asymmetry = (from, to) => `100*(SUM(${between("B", from, to)})-SUM(${between("C", from, to)}))/(SUM(${between("B", from, to)})+SUM(${between("C", from, to)}))`;
  const RESULTS = [
    ["dt", () => `[.$A$${FIRST + 1}]-[.$A$${FIRST}]`],
    ["weight", () => `AVERAGE(${column("D", FIRST + 300, FIRST + 1299)})`],
    ["sd", () => `STDEV(${column("D", FIRST + 300, FIRST + 1299)})`],
    ["mass", () => `${cell("weight")}/${G}`],
    ["takeoff", () => `MATCH(TRUE();${column("I")};0)`],
    ["landing", () => `${cell("takeoff")}-1+MATCH(FALSE();INDEX(${column("I")};${cell("takeoff")}):[.$I$${last}];0)`],
    ["onset", () => `1300+MATCH(TRUE();${column("J", FIRST + 1300, last)};0)-30`],
    ["slowest", () => `${cell("onset")}-1+MATCH(MIN(${between("F", "onset", "takeoff")});${between("F", "onset", "takeoff")};0)`],
    ["lowest", () => `${cell("slowest")}-1+MATCH(TRUE();${between("K", "slowest", "takeoff")};0)`],
    ["flightTime", () => `(${cell("landing")}-${cell("takeoff")})*${cell("dt")}`],
    ["takeoffVelocity", () => `INDEX(${column("F")};${cell("takeoff")})`],
    ["height", () => `${cell("takeoffVelocity")}^2/2/${G}`],
    ["heightFlight", () => `${G}*${cell("flightTime")}^2/8`],
    ["timeToTakeoff", () => `(${cell("takeoff")}-${cell("onset")})*${cell("dt")}`],
    ["rsiModified", () => `${cell("height")}/${cell("timeToTakeoff")}`],
    ["depth", () => `INDEX(${column("G")};${cell("lowest")})`],
    ["peakForce", () => `MAX(${between("D", "lowest", "takeoff")})`],
    ["meanForceBraking", () => `AVERAGE(${between("D", "slowest", "lowest")})`],
    ["meanForcePropulsion", () => `AVERAGE(${between("D", "lowest", "takeoff")})`],
    ["peakPower", () => `MAX(${between("H", "lowest", "takeoff")})`],
    ["meanPower", () => `AVERAGE(${between("H", "lowest", "takeoff")})`],
    ["brakingImpulse", () => `SUM(${between("E", "slowest", "lowest")})*${cell("mass")}*${cell("dt")}`],
    ["propulsionImpulse", () => `SUM(${between("E", "lowest", "takeoff")})*${cell("mass")}*${cell("dt")}`],
    ["brakingTime", () => `(${cell("lowest")}-${cell("slowest")})*${cell("dt")}`],
    ["propulsionTime", () => `(${cell("takeoff")}-${cell("lowest")})*${cell("dt")}`],
    ["peakLanding", () => `MAX(INDEX(${column("D")};${cell("landing")}):INDEX(${column("D")};${cell("landing")}+299))`],
    ["asymmetryBraking", () => asymmetry("slowest", "lowest")],
    ["asymmetryPropulsion", () => asymmetry("lowest", "takeoff")],
  ];
  const rows = [`<table:table-row>${["time", "left", "right", "force", "acceleration", "velocity", "displacement", "power", "below 20 N", "moving", "rising"].map(textCell).join("")}${formulaCell(RESULTS[0][1]())}</table:table-row>`];
  for (let i = 0; i < Math.max(n, RESULTS.length); i++) {
    const r = FIRST + i;
    const moving = `ROW()-${FIRST - 1}>${cell("onset")}`;
    const before = i === 0 ? undefined : r - 1;
    const cells = [
      valueCell(Number((i / trace.rate).toFixed(5))), valueCell(Number(left[i].toFixed(6))), valueCell(Number(right[i].toFixed(6))),
      formulaCell(`[.B${r}]+[.C${r}]`),
      formulaCell(`([.D${r}]-${cell("weight")})/${cell("mass")}`),
      before === undefined ? valueCell(0) : formulaCell(`IF(${moving};[.F${before}]+([.E${before}]+[.E${r}])/2*${cell("dt")};0)`),
      before === undefined ? valueCell(0) : formulaCell(`IF(${moving};[.G${before}]+([.F${before}]+[.F${r}])/2*${cell("dt")};0)`),
      formulaCell(`[.D${r}]*[.F${r}]`),
      formulaCell(`[.D${r}]<20`),
      formulaCell(`ABS([.D${r}]-${cell("weight")})>MAX(1;5*${cell("sd")})`),
      formulaCell(`[.F${r}]>=0`),
      RESULTS[r - 1] === undefined ? "" : formulaCell(RESULTS[r - 1][1]()),
    ];
    rows.push(`<table:table-row>${cells.join("")}</table:table-row>`);
  }
  const sheet = `<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:version="1.3" office:mimetype="application/vnd.oasis.opendocument.spreadsheet"><office:body><office:spreadsheet><table:table table:name="Trial">${rows.join("\n")}</table:table></office:spreadsheet></office:body></office:document>`;
  return { sheet, height: `L${rowOf("height")}`, formulas: 8 * n - 2 + RESULTS.length, values: 20 };
}

const valueCell = (value) => `<table:table-cell office:value-type="float" office:value="${value}"/>`;
const textCell = (text) => `<table:table-cell office:value-type="string"><text:p>${text}</text:p></table:table-cell>`;
const formulaCell = (formula) => `<table:table-cell table:formula="of:=${formula.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;")}"/>`;

/**
 * Opens the sheet in a headless LibreOffice and recalculates all of it.
 *
 * @param {boolean} threaded Whether columns of like formulas are shared out among the processors, as they are unless a person sets it off.
 * @returns Milliseconds of each of `times` recalculations, and the height that stands in the sheet, m; undefined where LibreOffice is not installed.
 */
export function recalculated(folder, { sheet, height }, times, threaded = true) {
  if (spawnSync("soffice", ["--version"], { stdio: "ignore" }).status !== 0) return undefined;
  const [file, out, profile] = ["trial.fods", "office.txt", "office"].map((name) => path.join(folder, name));
  writeFileSync(file, sheet);
  const office = (word) => execFileSync("soffice", ["--headless", `-env:UserInstallation=file://${profile}`, word], { stdio: "ignore", timeout: 300_000 });
  // The first start makes the profile, and would replace a macro that is there already.
  office("macro:///Standard.Module1.Main");
  const settings = path.join(profile, "user", "registrymodifications.xcu");
  const kept = readFileSync(settings, "utf8").replace(/<item oor:path="[^"]*Formula\/Calculation">.*?<\/item>/gs, "");
  const threads = `<item oor:path="/org.openoffice.Office.Calc/Formula/Calculation"><prop oor:name="UseThreadedCalculationForFormulaGroups" oor:op="fuse"><value>${threaded}</value></prop></item>`;
  writeFileSync(settings, kept.replace("</oor:items>", `${threads}</oor:items>`));
  const basic = path.join(profile, "user", "basic", "Standard");
  mkdirSync(basic, { recursive: true });
  writeFileSync(path.join(basic, "script.xlb"), `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:library PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "library.dtd">
<library:library xmlns:library="http://openoffice.org/2000/library" library:name="Standard" library:readonly="false" library:passwordprotected="false"><library:element library:name="Bench"/></library:library>`);
  writeFileSync(path.join(basic, "Bench.xba"), `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Bench" script:language="StarBasic">Sub Run
  Dim hidden(0) As New com.sun.star.beans.PropertyValue
  hidden(0).Name = "Hidden"
  hidden(0).Value = True
  document = StarDesktop.loadComponentFromURL("file://${file}", "_blank", 0, hidden())
  n = FreeFile
  Open "${out}" For Output As #n
  For k = 1 To ${times}
    began = GetSystemTicks()
    document.calculateAll()
    Print #n, GetSystemTicks() - began
  Next
  Print #n, Str(document.Sheets.getByIndex(0).getCellRangeByName("${height}").getValue())
  Close #n
  document.close(True)
  StarDesktop.terminate()
End Sub</script:module>`);
  office("macro:///Standard.Bench.Run");
  const numbers = readFileSync(out, "utf8").trim().split(/\s+/).map(Number);
  return { milliseconds: numbers.slice(0, -1), height: numbers.at(-1) };
}

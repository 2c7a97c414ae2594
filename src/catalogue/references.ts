/** One published source. */
export interface Reference {
  /** Key, as it stands in `MetricDefinition.sources`. */
  readonly key: string;
  /** Authors as cited in running text, for instance "Owen et al."; the journal where authors were not recorded. */
  readonly short: string;
  readonly authors: string;
  readonly year: number;
  readonly title: string;
  /** Journal or publisher, volume and first page or article number. */
  readonly where: string;
  /** What was read while this was written: the abstract or text, the title only, or nothing (cited from memory). */
  readonly checked: "text" | "title" | "memory";
}

/**
 * Key, which ends in the year or a word after it; authors; title; where; what was read, the text where nothing else is said; and how it is cited
 * where the names of the authors do not tell.
 */
const list: readonly (readonly [string, string, string, string, Reference["checked"]?, string?])[] = [
  ["afonso2022", "Afonso J et al.", "Why sports should embrace bilateral asymmetry", "Symmetry 14:1993"],
  ["atkinson1998", "Atkinson G, Nevill A", "Statistical methods for assessing measurement error (reliability) in variables relevant to sports medicine", "Sports Medicine 26:217"],
  ["baca1999", "Baca A", "A comparison of methods for analyzing drop jump performance", "Medicine and Science in Sports and Exercise 31:437"],
  ["baumgart2017", "Baumgart C et al.", "Differences and trial-to-trial reliability of vertical jump heights", "Asian Journal of Sports Medicine 8:e12921"],
  ["bishop2016", "Bishop C et al.", "Asymmetries of the lower limb: the calculation conundrum in strength training and conditioning", "Strength and Conditioning Journal 38:27"],
  ["bishop2018", "Bishop C et al.", "Interlimb asymmetries: understanding how to calculate differences from bilateral and unilateral tests", "Strength and Conditioning Journal 40:1"],
  ["bland1986", "Bland JM, Altman DG", "Statistical methods for assessing agreement between two methods of clinical measurement", "Lancet 327:307", "memory"],
  ["bosco1983", "Bosco C, Luhtanen P, Komi PV", "A simple method for measurement of mechanical power in jumping", "European Journal of Applied Physiology 50:273", "memory"],
  ["brughelli2008", "Brughelli M, Cronin J", "A review of research on the mechanical stiffness in running and jumping", "Scandinavian Journal of Medicine and Science in Sports 18:417", "title"],
  ["canavan2004", "Canavan PK, Vescovi JD", "Evaluation of power prediction equations: peak vertical jumping power in women", "Medicine and Science in Sports and Exercise 36:1589"],
  ["cgpm1901", "3rd General Conference on Weights and Measures", "Declaration on the unit of mass and on the definition of weight; conventional value of the acceleration of free fall", "BIPM", "memory", "CGPM"],
  ["claudino2017", "Claudino JG et al.", "The countermovement jump to monitor neuromuscular status", "Journal of Science and Medicine in Sport 20:397"],
  ["comfort2018", "Comfort P et al.", "Changes in dynamic strength index in response to strength training", "Sports 6:176"],
  ["comfort2019", "Comfort P et al.", "Standardization and methodological considerations for the isometric midthigh pull", "Strength and Conditioning Journal 41:57"],
  ["comyns2017", "Comyns T et al.", "Interday reliability of the ten to five repeated jump test", "Journal of Sports Sciences 35(S2):S80"],
  ["cormack2008", "Cormack SJ et al.", "Reliability of measures obtained during single and repeated countermovement jumps", "International Journal of Sports Physiology and Performance 3:131"],
  ["dalleau2004", "Dalleau G et al.", "A simple method for field measurements of leg stiffness in hopping", "International Journal of Sports Medicine 25:170", "memory"],
  ["dossantos2017", "Dos'Santos T et al.", "Effect of different onset thresholds on isometric midthigh pull force-time variables", "Journal of Strength and Conditioning Research 31:3463"],
  ["dossantos2018", "Dos'Santos T et al.", "Effect of low-pass filtering on isometric midthigh pull kinetics", "Journal of Strength and Conditioning Research", "title"],
  ["ebben2010", "Ebben WP, Petushek EJ", "Using the reactive strength index modified to evaluate plyometric performance", "Journal of Strength and Conditioning Research 24:1983"],
  ["exell2012", "Exell TA et al.", "Implications of intra-limb variability on asymmetry analyses", "Journal of Sports Sciences 30:403", "memory"],
  ["eythorsdottir2024", "Eythorsdottir I et al.", "The battle of the equations", "Sports Medicine 54:2771"],
  ["farley1999", "Farley CT, Morgenroth DC", "Leg stiffness primarily depends on ankle stiffness during human hopping", "Journal of Biomechanics 32:267", "memory"],
  ["feltner1999", "Feltner ME et al.", "Upper extremity augmentation of lower extremity kinetics during countermovement vertical jumps", "Journal of Sports Sciences 17:449"],
  ["fieller1954", "Fieller EC", "Some problems in interval estimation", "Journal of the Royal Statistical Society B 16:175", "memory"],
  ["flanagan2008", "Flanagan EP et al.", "Reliability of the reactive strength index and time to stabilization during depth jumps", "Journal of Strength and Conditioning Research 22:1677"],
  ["fransz2015", "Fransz DP et al.", "Time to stabilization in single leg drop jump landings", "Gait and Posture 41:63"],
  ["harman1990", "Harman EA et al.", "The effects of arms and countermovement on vertical jumping", "Medicine and Science in Sports and Exercise 22:825"],
  ["harman1991", "Harman EA et al.", "Estimation of human power output from vertical jump", "Journal of Applied Sport Science Research 5:116", "memory"],
  ["harper2011", "Harper D, Hobbs S, Moore J", "The ten to five repeated jump test: a new test for evaluation of reactive strength", "British Association of Sport and Exercise Sciences, student conference"],
  ["harry2020", "Harry JR, Barker LA, Paquette MR", "A joint power approach to define countermovement jump phases using force platforms", "Medicine and Science in Sports and Exercise 52:993", "title"],
  ["hopkins2000", "Hopkins WG", "Measures of reliability in sports medicine and science", "Sports Medicine 30:1"],
  ["hori2009", "Hori N et al.", "Reliability of performance measurements derived from ground reaction force data during countermovement jump and the influence of sampling frequency", "Journal of Strength and Conditioning Research 23:874", "memory"],
  ["howard1991", "Howard JD, Enoka RM", "Maximum bilateral contractions are modified by neurally mediated interlimb effects", "Journal of Applied Physiology 70:306", "memory"],
  ["ijerph2021", "Authors not recorded", "Questionable utility of the eccentric utilization ratio", "International Journal of Environmental Research and Public Health 18:11754", "text", "IJERPH"],
  ["jacobson1991", "Jacobson NS, Truax P", "Clinical significance: a statistical approach to defining meaningful change", "Journal of Consulting and Clinical Psychology 59:12", "memory"],
  ["jcgm2008", "Joint Committee for Guides in Metrology", "JCGM 100:2008 Evaluation of measurement data: guide to the expression of uncertainty in measurement", "BIPM", "memory", "JCGM 100"],
  ["johnson1996", "Johnson DL, Bahamonde R", "Power output estimate in university athletes", "Journal of Strength and Conditioning Research 10:161", "memory"],
  ["keiner2024", "Keiner M et al.", "Optimal drop heights ... youth (title shortened)", "journal not recorded"],
  ["kibele1998", "Kibele A", "Possibilities and limitations in the biomechanical analysis of countermovement jumps", "Journal of Applied Biomechanics 14:105", "memory"],
  ["lees2004", "Lees A et al.", "Understanding how an arm swing enhances performance in the vertical jump", "Journal of Biomechanics 37:1929"],
  ["lindberg2021", "Lindberg K et al.", "Force-velocity profiling in athletes: reliability and agreement across methods", "PLOS ONE 16:e0245791"],
  ["linthorne2001", "Linthorne NP", "Analysis of standing vertical jumps using a force platform", "American Journal of Physics 69:1198"],
  ["linthorne2021", "Linthorne NP", "The correlation between jump height and mechanical power in a countermovement jump is artificially inflated", "Sports Biomechanics 20:3"],
  ["maffiuletti2016", "Maffiuletti NA et al.", "Rate of force development: physiological and methodological considerations", "European Journal of Applied Physiology 116:1091"],
  ["mcgraw1996", "McGraw KO, Wong SP", "Forming inferences about some intraclass correlation coefficients", "Psychological Methods 1:30", "memory"],
  ["mcguigan2006", "McGuigan MR et al.", "Eccentric utilization ratio", "Journal of Strength and Conditioning Research 20:992"],
  ["mcmahon1990", "McMahon TA, Cheng GC", "The mechanics of running: how does stiffness couple with speed?", "Journal of Biomechanics 23(S1):65", "memory"],
  ["mcmahon2018phases", "McMahon JJ, Suchomel TJ, Lake JP, Comfort P", "Understanding the key phases of the countermovement jump force-time curve", "Strength and Conditioning Journal 40:96"],
  ["mcmahon2018ratio", "McMahon JJ et al.", "Reliability of and relationship between flight time to contraction time ratio and reactive strength index modified", "Sports 6:81"],
  ["mcmahon2021", "McMahon JJ et al.", "A proposed method for evaluating drop jump performance with one force platform", "Biomechanics 1:178"],
  ["mcmahon2022", "McMahon JJ et al.", "Countermovement jump standards in rugby league", "Journal of Strength and Conditioning Research 36:1691"],
  ["moir2008", "Moir GL", "Three different methods of calculating vertical jump height from force platform data in men and women", "Measurement in Physical Education and Exercise Science 12:207"],
  ["moritz2000", "Moritz H", "Geodetic Reference System 1980", "Journal of Geodesy 74:128", "memory"],
  ["nga2014", "National Geospatial-Intelligence Agency", "Department of Defense World Geodetic System 1984, NGA.STND.0036", "NGA", "memory", "NGA"],
  ["owen2014", "Owen NJ et al.", "Development of a criterion method to determine peak mechanical power output in a countermovement jump", "Journal of Strength and Conditioning Research 28:1552"],
  ["parkinson2021", "Parkinson AO et al.", "The calculation, thresholds and reporting of inter-limb strength asymmetry", "Journal of Sports Science and Medicine 20:594"],
  ["perez2021", "Pérez-Castilla A et al.", "Reliability and magnitude of countermovement jump performance variables: influence of the take-off threshold", "Measurement in Physical Education and Exercise Science 25:227"],
  ["plosone2025", "Authors not recorded", "Comparisons between different methods of calculating dynamic strength index", "PLOS ONE e0331519", "text", "PLOS ONE"],
  ["prieske2019", "Prieske O et al.", "Effects of drop height on drop jump performance", "International Journal of Sports Physiology and Performance 14:674"],
  ["queen2020", "Queen R et al.", "The normalized symmetry index", "Journal of Biomechanics 99:109531", "memory"],
  ["robinson1987", "Robinson RO et al.", "Use of force platform variables to quantify the effects of chiropractic manipulation on gait symmetry", "Journal of Manipulative and Physiological Therapeutics 10:172", "memory"],
  ["sainani2018", "Sainani KL", "The problem with magnitude-based inference", "Medicine and Science in Sports and Exercise 50:2166", "memory"],
  ["samozino2008", "Samozino P et al.", "A simple method for measuring force, velocity and power output during squat jump", "Journal of Biomechanics 41:2940"],
  ["samozino2022", "Samozino P et al.", "Reply to a critique of force-velocity profiling (title not recorded)", "International Journal of Sports Physiology and Performance 17:1760"],
  ["sayers1999", "Sayers SP et al.", "Cross-validation of three jump power equations", "Medicine and Science in Sports and Exercise 31:572", "title"],
  ["schmidtbleicher1992", "Schmidtbleicher D", "Training for power events", "Strength and Power in Sport (Blackwell)", "memory"],
  ["sheppard2008", "Sheppard JM, Doyle TLA", "Increasing compliance to instructions in the squat jump", "Journal of Strength and Conditioning Research 22:648"],
  ["sheppard2011", "Sheppard JM, Chapman D, Taylor KL", "An evaluation of a strength qualities assessment method for the lower body", "Journal of Australian Strength and Conditioning 19:4", "memory", "Sheppard et al."],
  ["shetty1989", "Shetty AB, Etnyre BR", "Contribution of arm movement to the force components of a maximum vertical jump", "Journal of Orthopaedic and Sports Physical Therapy 11:198"],
  ["shrout1979", "Shrout PE, Fleiss JL", "Intraclass correlations: uses in assessing rater reliability", "Psychological Bulletin 86:420", "title"],
  ["skarabot2016", "Škarabot J et al.", "Bilateral deficit in maximal force production", "European Journal of Applied Physiology 116:2057", "memory"],
  ["sole2018", "Sole CJ et al.", "Preliminary scale of reference values for evaluating reactive strength index-modified", "Sports 6"],
  ["souza2020", "Souza AA et al.", "Reliability of mechanical variables in the countermovement jump", "International Journal of Exercise Science 13:6 (PMC7039490)"],
  ["sports2022", "Authors not recorded", "Comparison of the reliability of four different movement thresholds", "Sports 10:193", "text", "Sports"],
  ["stratford2020", "Stratford C et al.", "The 10/5 repeated jumps test", "Biomechanics 1:1"],
  ["street2001", "Street G et al.", "Sources of error in determining countermovement jump height with the impulse method", "Journal of Applied Biomechanics 17:43", "memory"],
  ["swinton2018", "Swinton PA et al.", "A statistical framework to interpret individual response to intervention", "Frontiers in Nutrition 5:41"],
  ["thomas2015", "Thomas C et al.", "Reliability of the dynamic strength index in college athletes", "International Journal of Sports Physiology and Performance 10:542", "memory"],
  ["thomas2017", "Thomas C et al.", "A comparison of dynamic strength index between team-sport athletes", "Sports 5:71"],
  ["vanhooren2017", "Van Hooren B, Zolotarjova J", "The difference between countermovement and squat jump performances", "Journal of Strength and Conditioning Research 31:2011"],
  ["vanrenterghem2001", "Vanrenterghem J et al.", "Necessary precautions in measuring correct vertical jumping height by means of force plate measurements", "Ergonomics 44:814", "memory"],
  ["vaverka2016", "Vaverka F et al.", "Effect of an arm swing on countermovement vertical jump performance in elite volleyball players", "Journal of Human Kinetics 53:41"],
  ["walshe1996", "Walshe AD, Wilson GJ, Murphy AJ", "The validity and reliability of a test of lower body musculotendinous stiffness", "European Journal of Applied Physiology 73:332", "memory", "Walshe et al."],
  ["xu2023", "Xu J et al.", "Calculation methods for jump height in countermovement jump and drop jump", "Sports Medicine"],
  ["young1995", "Young W", "Laboratory strength assessment of athletes", "New Studies in Athletics 10:88", "memory"],
  ["zifchock2008", "Zifchock RA et al.", "The symmetry angle: a novel, robust method of quantifying asymmetry", "Gait and Posture 27:622"],
];

/** The literature by key, in alphabetical order; no key but these, whatever a person asks for. */
export const REFERENCES: Readonly<Record<string, Reference>> = Object.freeze(
  Object.assign(
    Object.create(null) as Record<string, Reference>,
    Object.fromEntries(
      list.map(([key, authors, title, where, checked = "text", short = surnames(authors)]) => [key, Object.freeze({ key, short, authors, year: Number(/\d{4}/.exec(key)), title, where, checked })]),
    ),
  ),
);

/** Authors without their initials: `Owen N, Watkins J` is Owen and Watkins. */
function surnames(authors: string): string {
  return authors.replace(/ [A-Z]+(?=,|$| et al)/g, "").replace(/, ([^,]*)$/, " and $1");
}

/**
 * A reference as it stands in running text: `Owen et al. (2014)`.
 *
 * @param key Key of the reference, no unit.
 * @returns Short authors and year, no unit; the key itself where it is unknown.
 */
export function citation(key: string): string {
  const reference = REFERENCES[key];
  return reference ? `${reference.short} (${reference.year})` : key;
}

/**
 * A reference as it stands in a list of references, with what was read of it.
 *
 * @param key Key of the reference, no unit.
 * @returns Authors, year, title and place, no unit; ends with "from memory" or "title only" where the text was not opened.
 */
export function fullReference(key: string): string {
  const reference = REFERENCES[key];
  if (!reference) return key;
  const { authors, year, title, where, checked } = reference;
  const note = checked === "memory" ? " [from memory]" : checked === "title" ? " [title only]" : "";
  const stop = /[?!.]$/.test(title) ? "" : ".";
  return `${authors} (${year}). ${title}${stop} ${where}.${note}`;
}

/** A source named in a text, and where. */
export interface NamedSource {
  readonly key: string;
  readonly start: number;
  readonly end: number;
}

/**
 * The sources named in a text such as "Owen et al. (2014); Moir 2008": every source whose first surname stands before
 * its year.
 *
 * @param text Text with authors and years, no unit.
 * @returns Keys with the half-open stretch of the text that names them, in order of appearance, no unit.
 */
export function namedSources(text: string): readonly NamedSource[] {
  const found: NamedSource[] = [];
  for (const { key, short, year } of Object.values(REFERENCES)) {
    const surname = short.split(/,| and | et al\.?/)[0]!.trim().replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
    const match = new RegExp(`(?<![\\p{L}])${surname}(?![\\p{L}])[^0-9;]{0,60}?${year}\\)?`, "iu").exec(text);
    if (match) found.push({ key, start: match.index, end: match.index + match[0].length });
  }
  return found.sort((a, b) => a.start - b.start || a.key.localeCompare(b.key));
}

/**
 * The keys of the sources named in a text: see `namedSources`.
 *
 * @param text Text with authors and years, no unit.
 * @returns Keys in order of appearance, each once; empty for "common practice".
 */
export function referencesIn(text: string): readonly string[] {
  return namedSources(text).map(({ key }) => key);
}

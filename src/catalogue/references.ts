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

/** In the order of `Reference`; the text was read where nothing else is said. */
const list: readonly (readonly [string, string, string, number, string, string, Reference["checked"]?])[] = [
  ["afonso2022", "Afonso et al.", "Afonso J et al.", 2022, "Why sports should embrace bilateral asymmetry", "Symmetry 14:1993"],
  ["atkinson1998", "Atkinson and Nevill", "Atkinson G, Nevill A", 1998, "Statistical methods for assessing measurement error (reliability) in variables relevant to sports medicine", "Sports Medicine 26:217"],
  ["baca1999", "Baca", "Baca A", 1999, "A comparison of methods for analyzing drop jump performance", "Medicine and Science in Sports and Exercise 31:437"],
  ["baumgart2017", "Baumgart et al.", "Baumgart C et al.", 2017, "Differences and trial-to-trial reliability of vertical jump heights", "Asian Journal of Sports Medicine 8:e12921"],
  ["bishop2016", "Bishop et al.", "Bishop C et al.", 2016, "Asymmetries of the lower limb: the calculation conundrum in strength training and conditioning", "Strength and Conditioning Journal 38:27"],
  ["bishop2018", "Bishop et al.", "Bishop C et al.", 2018, "Interlimb asymmetries: understanding how to calculate differences from bilateral and unilateral tests", "Strength and Conditioning Journal 40:1"],
  ["bland1986", "Bland and Altman", "Bland JM, Altman DG", 1986, "Statistical methods for assessing agreement between two methods of clinical measurement", "Lancet 327:307", "memory"],
  ["bosco1983", "Bosco, Luhtanen and Komi", "Bosco C, Luhtanen P, Komi PV", 1983, "A simple method for measurement of mechanical power in jumping", "European Journal of Applied Physiology 50:273", "memory"],
  ["brughelli2008", "Brughelli and Cronin", "Brughelli M, Cronin J", 2008, "A review of research on the mechanical stiffness in running and jumping", "Scandinavian Journal of Medicine and Science in Sports 18:417", "title"],
  ["canavan2004", "Canavan and Vescovi", "Canavan PK, Vescovi JD", 2004, "Evaluation of power prediction equations: peak vertical jumping power in women", "Medicine and Science in Sports and Exercise 36:1589"],
  ["cgpm1901", "CGPM", "3rd General Conference on Weights and Measures", 1901, "Declaration on the unit of mass and on the definition of weight; conventional value of the acceleration of free fall", "BIPM", "memory"],
  ["claudino2017", "Claudino et al.", "Claudino JG et al.", 2017, "The countermovement jump to monitor neuromuscular status", "Journal of Science and Medicine in Sport 20:397"],
  ["comfort2018", "Comfort et al.", "Comfort P et al.", 2018, "Changes in dynamic strength index in response to strength training", "Sports 6:176"],
  ["comfort2019", "Comfort et al.", "Comfort P et al.", 2019, "Standardization and methodological considerations for the isometric midthigh pull", "Strength and Conditioning Journal 41:57"],
  ["comyns2017", "Comyns et al.", "Comyns T et al.", 2017, "Interday reliability of the ten to five repeated jump test", "Journal of Sports Sciences 35(S2):S80"],
  ["cormack2008", "Cormack et al.", "Cormack SJ et al.", 2008, "Reliability of measures obtained during single and repeated countermovement jumps", "International Journal of Sports Physiology and Performance 3:131"],
  ["dalleau2004", "Dalleau et al.", "Dalleau G et al.", 2004, "A simple method for field measurements of leg stiffness in hopping", "International Journal of Sports Medicine 25:170", "memory"],
  ["dossantos2017", "Dos'Santos et al.", "Dos'Santos T et al.", 2017, "Effect of different onset thresholds on isometric midthigh pull force-time variables", "Journal of Strength and Conditioning Research 31:3463"],
  ["dossantos2018", "Dos'Santos et al.", "Dos'Santos T et al.", 2018, "Effect of low-pass filtering on isometric midthigh pull kinetics", "Journal of Strength and Conditioning Research", "title"],
  ["ebben2010", "Ebben and Petushek", "Ebben WP, Petushek EJ", 2010, "Using the reactive strength index modified to evaluate plyometric performance", "Journal of Strength and Conditioning Research 24:1983"],
  ["exell2012", "Exell et al.", "Exell TA et al.", 2012, "Implications of intra-limb variability on asymmetry analyses", "Journal of Sports Sciences 30:403", "memory"],
  ["eythorsdottir2024", "Eythorsdottir et al.", "Eythorsdottir I et al.", 2024, "The battle of the equations", "Sports Medicine 54:2771"],
  ["farley1999", "Farley and Morgenroth", "Farley CT, Morgenroth DC", 1999, "Leg stiffness primarily depends on ankle stiffness during human hopping", "Journal of Biomechanics 32:267", "memory"],
  ["feltner1999", "Feltner et al.", "Feltner ME et al.", 1999, "Upper extremity augmentation of lower extremity kinetics during countermovement vertical jumps", "Journal of Sports Sciences 17:449"],
  ["fieller1954", "Fieller", "Fieller EC", 1954, "Some problems in interval estimation", "Journal of the Royal Statistical Society B 16:175", "memory"],
  ["flanagan2008", "Flanagan et al.", "Flanagan EP et al.", 2008, "Reliability of the reactive strength index and time to stabilization during depth jumps", "Journal of Strength and Conditioning Research 22:1677"],
  ["fransz2015", "Fransz et al.", "Fransz DP et al.", 2015, "Time to stabilization in single leg drop jump landings", "Gait and Posture 41:63"],
  ["harman1990", "Harman et al.", "Harman EA et al.", 1990, "The effects of arms and countermovement on vertical jumping", "Medicine and Science in Sports and Exercise 22:825"],
  ["harman1991", "Harman et al.", "Harman EA et al.", 1991, "Estimation of human power output from vertical jump", "Journal of Applied Sport Science Research 5:116", "memory"],
  ["harper2011", "Harper, Hobbs and Moore", "Harper D, Hobbs S, Moore J", 2011, "The ten to five repeated jump test: a new test for evaluation of reactive strength", "British Association of Sport and Exercise Sciences, student conference"],
  ["harry2020", "Harry, Barker and Paquette", "Harry JR, Barker LA, Paquette MR", 2020, "A joint power approach to define countermovement jump phases using force platforms", "Medicine and Science in Sports and Exercise 52:993", "title"],
  ["hopkins2000", "Hopkins", "Hopkins WG", 2000, "Measures of reliability in sports medicine and science", "Sports Medicine 30:1"],
  ["hori2009", "Hori et al.", "Hori N et al.", 2009, "Reliability of performance measurements derived from ground reaction force data during countermovement jump and the influence of sampling frequency", "Journal of Strength and Conditioning Research 23:874", "memory"],
  ["howard1991", "Howard and Enoka", "Howard JD, Enoka RM", 1991, "Maximum bilateral contractions are modified by neurally mediated interlimb effects", "Journal of Applied Physiology 70:306", "memory"],
  ["ijerph2021", "IJERPH", "Authors not recorded", 2021, "Questionable utility of the eccentric utilization ratio", "International Journal of Environmental Research and Public Health 18:11754"],
  ["jacobson1991", "Jacobson and Truax", "Jacobson NS, Truax P", 1991, "Clinical significance: a statistical approach to defining meaningful change", "Journal of Consulting and Clinical Psychology 59:12", "memory"],
  ["jcgm2008", "JCGM 100", "Joint Committee for Guides in Metrology", 2008, "JCGM 100:2008 Evaluation of measurement data: guide to the expression of uncertainty in measurement", "BIPM", "memory"],
  ["johnson1996", "Johnson and Bahamonde", "Johnson DL, Bahamonde R", 1996, "Power output estimate in university athletes", "Journal of Strength and Conditioning Research 10:161", "memory"],
  ["keiner2024", "Keiner et al.", "Keiner M et al.", 2024, "Optimal drop heights ... youth (title shortened)", "journal not recorded"],
  ["kibele1998", "Kibele", "Kibele A", 1998, "Possibilities and limitations in the biomechanical analysis of countermovement jumps", "Journal of Applied Biomechanics 14:105", "memory"],
  ["lees2004", "Lees et al.", "Lees A et al.", 2004, "Understanding how an arm swing enhances performance in the vertical jump", "Journal of Biomechanics 37:1929"],
  ["lindberg2021", "Lindberg et al.", "Lindberg K et al.", 2021, "Force-velocity profiling in athletes: reliability and agreement across methods", "PLOS ONE 16:e0245791"],
  ["linthorne2001", "Linthorne", "Linthorne NP", 2001, "Analysis of standing vertical jumps using a force platform", "American Journal of Physics 69:1198"],
  ["linthorne2021", "Linthorne", "Linthorne NP", 2021, "The correlation between jump height and mechanical power in a countermovement jump is artificially inflated", "Sports Biomechanics 20:3"],
  ["maffiuletti2016", "Maffiuletti et al.", "Maffiuletti NA et al.", 2016, "Rate of force development: physiological and methodological considerations", "European Journal of Applied Physiology 116:1091"],
  ["mcgraw1996", "McGraw and Wong", "McGraw KO, Wong SP", 1996, "Forming inferences about some intraclass correlation coefficients", "Psychological Methods 1:30", "memory"],
  ["mcguigan2006", "McGuigan et al.", "McGuigan MR et al.", 2006, "Eccentric utilization ratio", "Journal of Strength and Conditioning Research 20:992"],
  ["mcmahon1990", "McMahon and Cheng", "McMahon TA, Cheng GC", 1990, "The mechanics of running: how does stiffness couple with speed?", "Journal of Biomechanics 23(S1):65", "memory"],
  ["mcmahon2018phases", "McMahon, Suchomel, Lake and Comfort", "McMahon JJ, Suchomel TJ, Lake JP, Comfort P", 2018, "Understanding the key phases of the countermovement jump force-time curve", "Strength and Conditioning Journal 40:96"],
  ["mcmahon2018ratio", "McMahon et al.", "McMahon JJ et al.", 2018, "Reliability of and relationship between flight time to contraction time ratio and reactive strength index modified", "Sports 6:81"],
  ["mcmahon2021", "McMahon et al.", "McMahon JJ et al.", 2021, "A proposed method for evaluating drop jump performance with one force platform", "Biomechanics 1:178"],
  ["mcmahon2022", "McMahon et al.", "McMahon JJ et al.", 2022, "Countermovement jump standards in rugby league", "Journal of Strength and Conditioning Research 36:1691"],
  ["moir2008", "Moir", "Moir GL", 2008, "Three different methods of calculating vertical jump height from force platform data in men and women", "Measurement in Physical Education and Exercise Science 12:207"],
  ["moritz2000", "Moritz", "Moritz H", 2000, "Geodetic Reference System 1980", "Journal of Geodesy 74:128", "memory"],
  ["nga2014", "NGA", "National Geospatial-Intelligence Agency", 2014, "Department of Defense World Geodetic System 1984, NGA.STND.0036", "NGA", "memory"],
  ["owen2014", "Owen et al.", "Owen NJ et al.", 2014, "Development of a criterion method to determine peak mechanical power output in a countermovement jump", "Journal of Strength and Conditioning Research 28:1552"],
  ["parkinson2021", "Parkinson et al.", "Parkinson AO et al.", 2021, "The calculation, thresholds and reporting of inter-limb strength asymmetry", "Journal of Sports Science and Medicine 20:594"],
  ["perez2021", "Pérez-Castilla et al.", "Pérez-Castilla A et al.", 2021, "Reliability and magnitude of countermovement jump performance variables: influence of the take-off threshold", "Measurement in Physical Education and Exercise Science 25:227"],
  ["plosone2025", "PLOS ONE", "Authors not recorded", 2025, "Comparisons between different methods of calculating dynamic strength index", "PLOS ONE e0331519"],
  ["prieske2019", "Prieske et al.", "Prieske O et al.", 2019, "Effects of drop height on drop jump performance", "International Journal of Sports Physiology and Performance 14:674"],
  ["queen2020", "Queen et al.", "Queen R et al.", 2020, "The normalized symmetry index", "Journal of Biomechanics 99:109531", "memory"],
  ["robinson1987", "Robinson et al.", "Robinson RO et al.", 1987, "Use of force platform variables to quantify the effects of chiropractic manipulation on gait symmetry", "Journal of Manipulative and Physiological Therapeutics 10:172", "memory"],
  ["sainani2018", "Sainani", "Sainani KL", 2018, "The problem with magnitude-based inference", "Medicine and Science in Sports and Exercise 50:2166", "memory"],
  ["samozino2008", "Samozino et al.", "Samozino P et al.", 2008, "A simple method for measuring force, velocity and power output during squat jump", "Journal of Biomechanics 41:2940"],
  ["samozino2022", "Samozino et al.", "Samozino P et al.", 2022, "Reply to a critique of force-velocity profiling (title not recorded)", "International Journal of Sports Physiology and Performance 17:1760"],
  ["sayers1999", "Sayers et al.", "Sayers SP et al.", 1999, "Cross-validation of three jump power equations", "Medicine and Science in Sports and Exercise 31:572", "title"],
  ["schmidtbleicher1992", "Schmidtbleicher", "Schmidtbleicher D", 1992, "Training for power events", "Strength and Power in Sport (Blackwell)", "memory"],
  ["sheppard2008", "Sheppard and Doyle", "Sheppard JM, Doyle TLA", 2008, "Increasing compliance to instructions in the squat jump", "Journal of Strength and Conditioning Research 22:648"],
  ["sheppard2011", "Sheppard et al.", "Sheppard JM, Chapman D, Taylor KL", 2011, "An evaluation of a strength qualities assessment method for the lower body", "Journal of Australian Strength and Conditioning 19:4", "memory"],
  ["shetty1989", "Shetty and Etnyre", "Shetty AB, Etnyre BR", 1989, "Contribution of arm movement to the force components of a maximum vertical jump", "Journal of Orthopaedic and Sports Physical Therapy 11:198"],
  ["shrout1979", "Shrout and Fleiss", "Shrout PE, Fleiss JL", 1979, "Intraclass correlations: uses in assessing rater reliability", "Psychological Bulletin 86:420", "title"],
  ["skarabot2016", "Škarabot et al.", "Škarabot J et al.", 2016, "Bilateral deficit in maximal force production", "European Journal of Applied Physiology 116:2057", "memory"],
  ["sole2018", "Sole et al.", "Sole CJ et al.", 2018, "Preliminary scale of reference values for evaluating reactive strength index-modified", "Sports 6"],
  ["souza2020", "Souza et al.", "Souza AA et al.", 2020, "Reliability of mechanical variables in the countermovement jump", "International Journal of Exercise Science 13:6 (PMC7039490)"],
  ["sports2022", "Sports", "Authors not recorded", 2022, "Comparison of the reliability of four different movement thresholds", "Sports 10:193"],
  ["stratford2020", "Stratford et al.", "Stratford C et al.", 2020, "The 10/5 repeated jumps test", "Biomechanics 1:1"],
  ["street2001", "Street et al.", "Street G et al.", 2001, "Sources of error in determining countermovement jump height with the impulse method", "Journal of Applied Biomechanics 17:43", "memory"],
  ["swinton2018", "Swinton et al.", "Swinton PA et al.", 2018, "A statistical framework to interpret individual response to intervention", "Frontiers in Nutrition 5:41"],
  ["thomas2015", "Thomas et al.", "Thomas C et al.", 2015, "Reliability of the dynamic strength index in college athletes", "International Journal of Sports Physiology and Performance 10:542", "memory"],
  ["thomas2017", "Thomas et al.", "Thomas C et al.", 2017, "A comparison of dynamic strength index between team-sport athletes", "Sports 5:71"],
  ["vanhooren2017", "Van Hooren and Zolotarjova", "Van Hooren B, Zolotarjova J", 2017, "The difference between countermovement and squat jump performances", "Journal of Strength and Conditioning Research 31:2011"],
  ["vanrenterghem2001", "Vanrenterghem et al.", "Vanrenterghem J et al.", 2001, "Necessary precautions in measuring correct vertical jumping height by means of force plate measurements", "Ergonomics 44:814", "memory"],
  ["vaverka2016", "Vaverka et al.", "Vaverka F et al.", 2016, "Effect of an arm swing on countermovement vertical jump performance in elite volleyball players", "Journal of Human Kinetics 53:41"],
  ["walshe1996", "Walshe et al.", "Walshe AD, Wilson GJ, Murphy AJ", 1996, "The validity and reliability of a test of lower body musculotendinous stiffness", "European Journal of Applied Physiology 73:332", "memory"],
  ["xu2023", "Xu et al.", "Xu J et al.", 2023, "Calculation methods for jump height in countermovement jump and drop jump", "Sports Medicine"],
  ["young1995", "Young", "Young W", 1995, "Laboratory strength assessment of athletes", "New Studies in Athletics 10:88", "memory"],
  ["zifchock2008", "Zifchock et al.", "Zifchock RA et al.", 2008, "The symmetry angle: a novel, robust method of quantifying asymmetry", "Gait and Posture 27:622"],
];

/** The literature by key, in alphabetical order; no key but these, whatever a person asks for. */
export const REFERENCES: Readonly<Record<string, Reference>> = Object.freeze(
  Object.assign(
    Object.create(null) as Record<string, Reference>,
    Object.fromEntries(list.map(([key, short, authors, year, title, where, checked = "text"]) => [key, Object.freeze({ key, short, authors, year, title, where, checked })])),
  ),
);

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

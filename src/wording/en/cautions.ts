import type { Texts } from "../Texts.ts";

/** Before a test is chosen, and where a result is read. Common practice; local rules and licensed practice come first. */
export const CAUTIONS: Texts["cautions"] = {
  all: [
    "Test only people who are warmed up, know the task and have no pain. Local rules and licensed practice come before anything written here.",
    "Do not test, and ask a licensed clinician first, with: a recent injury or surgery, a flare-up, a stress injury of bone, pain when landing softly, pregnancy or a recent birth without clearance, an uncontrolled condition of heart, vessels or nerves, fever, or fragile bones.",
    "Stop at once at pain, dizziness or loss of control.",
    "Minors: only tasks that fit their age, with low boxes, supervision and the consent that your rules ask for.",
  ],
  byTest: {
    CMJ: ["A maximal jump asks for a free, dry, non-slip surface and a landing the person has practised; with a load, for a spotter and for practice without it."],
    SJ: ["The held squat comes first: find a depth that the person can hold for two to three seconds without pain."],
    DJ: [
      "A drop jump loads the legs more than any other test here. Begin with a low box, go up only after clean landings, and keep the number of contacts small.",
      "In rehabilitation it is a late task; whether it is time for it is the decision of the clinician in charge.",
    ],
    RH: [
      "Repeated hops ask for practice at submaximal height first, and for rest between series.",
      "In rehabilitation they are a late task; whether it is time for them is the decision of the clinician in charge.",
    ],
    IMTP: [
      "A maximal pull asks for practice pulls of rising effort, straps that hold, a rack that cannot tip, and a neutral back throughout.",
      "Straining while holding the breath raises blood pressure: not for people who were told to avoid it.",
    ],
  },
  result: [
    "A result describes this trial on these plates. It is not a diagnosis, and it does not say whether a person may train, compete or return.",
    "Compare a person with the same protocol, the same settings and their own noise before comparing them with others.",
  ],
};

import { beforeAll, describe, expect, test } from "vitest";
import { inLanguage } from "../../../src/wording/inLanguage.ts";
import { findingSentence } from "../../../src/wording/findingSentence.ts";
import { EN } from "../../../src/wording/en/en.ts";
import { addLanguage, languageFor, setLanguage, spokenLanguage, textsOf } from "../../../src/wording/textsOf.ts";
import { MARKED, speakMarked, unmarked } from "../../support/markedLanguage.ts";

describe("inLanguage", () => {
  beforeAll(() => {
    addLanguage("de", { ...EN, sentences: { "take-off": "Absprung", "{1} requires {2} trials": "für {1} braucht es {2} Versuche", "{1} requires at least {2} of {3}": "von {3} mindestens {2}: {1}" } });
  });

  test("leaves English as it is", () => {
    expect(inLanguage("take-off")).toBe("take-off");
    expect(inLanguage("take-off", "en")).toBe("take-off");
  });
  test("finds a text by its English, and puts what stands in it where the translation wants it", () => {
    expect(inLanguage("take-off", "de")).toBe("Absprung");
    expect(inLanguage("a session requires at least 2 of 3", "de")).toBe("von 3 mindestens 2: a session");
  });
  test("looks up what stands in a text as well", () => {
    expect(inLanguage("take-off requires 2 trials", "de")).toBe("für Absprung braucht es 2 Versuche");
  });
  test.each(["", "something that nobody translated", "landing"])("gives %j in English where it has no translation", (text) => {
    expect(inLanguage(text, "de")).toBe(text);
  });
  test("is not misled by names that every object has", () => {
    expect(inLanguage("constructor", "de")).toBe("constructor");
  });
});

describe("numbers in sentences", () => {
  test("have the decimal mark of the language", () => {
    addLanguage("sv", { ...EN, decimalMark: "," });
    // The empty plate read 5.25 N: the rule of the zero prints a decimal.
    const [english, swedish] = ["en", "sv"].map((language) => findingSentence("Q3", { offset: 5.25, left: 2.5, right: 2.75 }, language));
    expect(english).toMatch(/\d\.\d/);
    expect(swedish).toBe(english.replace(/(?<=\d)\.(?=\d)/g, ","));
  });
});

describe("languageFor", () => {
  test("takes the first that exists, of a place the language itself, else English", () => {
    expect(languageFor(["fr-CA", "de-AT", "en-GB"])).toBe("de");
    expect(languageFor(["EN-us", "de"])).toBe("en");
    expect(languageFor(["fr"])).toBe("en");
    expect(languageFor([])).toBe("en");
    expect(languageFor([undefined, "de-CH"])).toBe("de");
  });
});

describe("setLanguage", () => {
  test("holds for all that is said afterwards; an unknown language is English", () => {
    setLanguage("de");
    expect(textsOf().sentences).toBeDefined();
    expect(inLanguage("take-off")).toBe("Absprung");
    setLanguage("fr");
    expect(spokenLanguage()).toBe("fr");
    expect(textsOf()).toBe(EN);
    setLanguage("en");
  });
});

describe("the keys for translators", () => {
  // Law: whatever stands in its places, each key is found again, and nothing of its English is left outside the translation.
  test("each meet the text that the code makes of them", async () => {
    const keys = await speakMarked();
    expect(keys.length).toBeGreaterThan(800);
    const missed = keys.filter((key) => {
      const text = key.replace(/\{(\d+)\}/g, (_, place: string) => `${place}7`);
      return /\p{L}/u.test(unmarked(inLanguage(text, MARKED)));
    });
    expect(missed).toEqual([]);
  });
});

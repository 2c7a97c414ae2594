/** Version of Leapsheet, printed with every recorded result. Equal to the version in package.json (a test compares them). */
export const VERSION = "0.1.0";

/** The version in package.json, which the built command does not carry with it. A test holds the two together. */
export const VERSION = "1.0.0";

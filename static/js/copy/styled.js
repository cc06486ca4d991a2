/** Stands in for knit/deferred-styles.js: the file has all its looks. */

export async function addStyles() {}

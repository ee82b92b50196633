/** Words in which K–B1 and F6 + 2.0 are not broken over the end of a line. */
export function unbroken(words: string): string {
  return words.replace(/(\S)–(\S)/g, '$1\u2060–\u2060$2').replace(/ \+ /g, '\u00a0+\u00a0');
}

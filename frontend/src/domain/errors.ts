/** One error for everything that is refused: a code, a sentence, and what to do. */

export class Refused extends Error {
  constructor(
    readonly code: string,
    message: string,
    readonly hint = '',
    options?: ErrorOptions,
  ) {
    super(message, options);
    this.name = 'Refused';
  }
}

/** Sends a request of a transaction off without waiting for its answer.

A store answers in order, so what is asked later sees it; where it fails the transaction ends with
the reason, and that is what the caller waits for. */
export function unwaited(request: Promise<unknown>): void {
  request.catch(() => {});
}

import type { AgainTold } from '../../services/again';

/** The sheet of a book that is worked out again, fetched when there is something to tell on it. */
export function againLater(root: Element): { told: AgainTold; end: () => void } {
  let fetched: Promise<AgainTold> | undefined;
  let is_over = false;
  const sheet = () => {
    fetched ??= import('./again_sheet').then(({ againOn }) => againOn(root));
    return fetched;
  };
  return {
    told: {
      // Nothing is drawn over the app, should the sheet come after the work is done.
      tell: (step) => void sheet().then((one) => is_over || one.tell(step), noSheet),
      failed: (reason) => sheet().then((one) => one.failed(reason), goOn),
    },
    end: () => {
      is_over = true;
    },
  };
}

/** The work goes on without being shown. */
function noSheet() {}

/** Nobody can be asked: the app goes on with what there is. */
const goOn = () => false;

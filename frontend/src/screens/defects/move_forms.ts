import type { DefectRow } from '../../services/shop';

/** What a move asks of the person who makes it, as fields of a small form. */

export type FormField =
  | { name: string; label: string; type: 'text' | 'date'; hint?: string }
  | { name: string; label: string; type: 'choice'; choices: ChoicesOf }
  | { name: string; label: string; type: 'number of a record' }
  | { name: string; label: string; type: 'photograph' }
  | { name: string; label: string; type: 'passcode' };

/** Where the choices of a field come from. */
export type ChoicesOf =
  | 'dispositions'
  | 'states'
  | 'stages'
  | 'tablets'
  | 'grades'
  | 'limits'
  | 'figures';

const DEPTH_LEFT: FormField = {
  name: 'depth_left',
  label: 'Thickness left after the blend, in',
  type: 'text',
};
const WHY: FormField = { name: 'why', label: 'Reason', type: 'text' };
const STAMP: FormField = {
  name: 'passcode',
  label: 'Your passcode, for the stamp',
  type: 'passcode',
};
const STAGE: FormField = {
  name: 'stage',
  label: 'Stage it blocks',
  type: 'choice',
  choices: 'stages',
};

export const MOVE_WORDS: Record<string, string> = {
  raise: 'Raise',
  assess: 'Assess',
  start: 'Start work',
  offer: 'Offer for inspection',
  clear: 'Clear',
  accept: 'Accept as is',
  nil: 'Looked at – nothing found',
  reject: 'Reject',
  're-assess': 'Re-assess',
  defer: 'Defer',
  'found again': 'Found again',
  'same as': 'Same as …',
  back: 'Back',
  'raised in error': 'Raised in error',
  choose: 'Choose',
  overrule: 'Overrule the grade',
  'overrule back': 'Take the overrule back',
  'look again': 'Look again',
  'look again back': 'Take the question back',
  answer: 'Answer: looked again',
  'grade again': 'Grade again',
  correct: 'Correct a figure',
};

/** Decisions that leave the state as it is. */
export const DECISIONS = [
  ...(['overrule', 'overrule back', 'look again', 'look again back'] as const),
  ...(['answer', 'grade again', 'correct'] as const),
];
export type Decision = (typeof DECISIONS)[number];

export function isDecision(name: string): name is Decision {
  return (DECISIONS as readonly string[]).includes(name);
}

/** Fields that belong in `set`; the others go beside it. */
export const SET_FIELDS = new Set(['disposition', 'reason', 'stage', 'authority', 'same_as']);

/** Fields asked for a move on this record; a depth left is asked only after a blend. */
export function formOf(move: string, row: Pick<DefectRow, 'disposition'>): FormField[] {
  switch (move) {
    case 'assess':
      return [
        { name: 'disposition', label: 'Disposition', type: 'choice', choices: 'dispositions' },
        STAGE,
        { name: 'reason', label: 'Reason', type: 'text' },
      ];
    case 'offer':
      return [
        { name: 'evidence_photograph', label: 'Photograph after work', type: 'photograph' },
        ...(row.disposition?.startsWith('Blend') ? [DEPTH_LEFT] : []),
      ];
    case 'clear':
      return [STAMP];
    case 'accept':
      return [
        {
          name: 'authority',
          label: 'Design authority reference (asked for grade 4)',
          type: 'text',
        },
        STAMP,
      ];
    case 'defer':
      return DEFER;
    case 'same as':
      return [{ name: 'same_as', label: 'Number of the other record', type: 'number of a record' }];
    case 'choose':
      return [{ name: 'to', label: 'State', type: 'choice', choices: 'states' }, WHY];
    case 'found again':
      return [WHY, { name: 'evidence_photograph', label: 'New photograph', type: 'photograph' }];
    case 'reject':
    case 're-assess':
    case 'back':
    case 'raised in error':
      return [WHY];
    default:
      return isDecision(move) ? decisionForm(move) : [];
  }
}

const DEFER: FormField[] = [
  {
    name: 'to_stage',
    label: 'To stage, or a day (one is needed)',
    type: 'choice',
    choices: 'stages',
  },
  { name: 'to_date', label: 'Or to a day', type: 'date' },
  { name: 'look_again_by', label: 'Look again by (needed)', type: 'date' },
  { name: 'limit', label: 'Limit (needed)', type: 'choice', choices: 'limits' },
  { name: 'limit_words', label: 'Or a limit in words', type: 'text' },
  { name: 'deferral_authority', label: 'Authority (needed)', type: 'text' },
  WHY,
];

function decisionForm(decision: Decision): FormField[] {
  switch (decision) {
    case 'overrule':
      return [
        { name: 'grade', label: 'Grade given', type: 'choice', choices: 'grades' },
        WHY,
        STAMP,
      ];
    case 'overrule back':
      return [WHY, STAMP];
    case 'look again':
      return [
        { name: 'tablet', label: 'Tablet', type: 'choice', choices: 'tablets' },
        { name: 'ask', label: 'What to look at or measure', type: 'text' },
      ];
    case 'answer':
      return [{ name: 'answer', label: 'What was seen', type: 'text' }];
    case 'correct':
      return [
        { name: 'figure', label: 'Figure', type: 'choice', choices: 'figures' },
        { name: 'corrected', label: 'What it is, in the unit shown', type: 'text' },
        WHY,
      ];
    default:
      return [];
  }
}

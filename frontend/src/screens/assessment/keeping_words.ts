/** How old the server's last backup and the last rehearsal of one are, and what to do about it;
and whether its nightly check found the book whole. */

/** What the server says; days are null where there is none. */
export interface Keeping {
  backup_days: number | null;
  rehearsal_days: number | null;
  backup_due: boolean;
  rehearsal_due: boolean;
  /** When the book was last checked, how much was missing or changed, and the first of it. */
  check_days: number | null;
  check_faults: number;
  check_fault: string | null;
}

export interface KeepingLine {
  what: string;
  /** "2 days ago", "none yet". */
  last: string;
  is_due: boolean;
  todo: string;
}

const BACKUP_TODO =
  'See that the server runs overnight and its backup disk is there; by hand: skinpin backup.';
const REHEARSAL_TODO = 'Prove that the backup can be read back, on the server: skinpin rehearse.';

const CHECK_TODO = 'made each night after the backup; of all at once: skinpin check-book';

/** The lines, as the server tells them. */
export function keepingLines(kept: Keeping): KeepingLine[] {
  return [
    {
      what: 'Backup',
      last: agoWords(kept.backup_days, 'none yet'),
      is_due: kept.backup_due,
      todo: kept.backup_due ? BACKUP_TODO : 'made each night; warned of at 7 days',
    },
    {
      what: 'Rehearsal',
      last: agoWords(kept.rehearsal_days, 'none yet'),
      is_due: kept.rehearsal_due,
      todo: kept.rehearsal_due ? REHEARSAL_TODO : 'a backup read back whole; warned of at 30 days',
    },
    {
      what: 'Check of the book',
      last: agoWords(kept.check_days, 'none yet'),
      is_due: kept.check_faults > 0,
      todo: kept.check_faults > 0 ? faultWords(kept) : CHECK_TODO,
    },
  ];
}

/** What was found, and what to do about it. */
function faultWords({ check_faults, check_fault }: Keeping): string {
  const more = check_faults > 1 ? ` And ${check_faults - 1} more.` : '';
  return `${check_fault ?? ''}${more} See all of it on the server: skinpin check-book. What is lost here may be in a backup, or on a tablet that still has it.`;
}

function agoWords(days: number | null, none: string): string {
  if (days === null) return none;
  if (days === 0) return 'today';
  return days === 1 ? '1 day ago' : `${days} days ago`;
}

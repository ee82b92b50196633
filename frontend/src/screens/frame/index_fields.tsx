import { SheetIndex } from '../../furniture';
import type { ScreenProps } from '../../services/shop';

const SHEETS = [
  { name: 'At the airframe', href: '/airframe' },
  { name: 'Defect book', href: '/defects' },
  { name: 'Assessment', href: '/assessment' },
  { name: 'Stages', href: '/stages' },
  { name: 'Reports', href: '/reports' },
  { name: 'Figures', href: '/figures' },
  { name: 'People', href: '/people' },
] as const;

/** Top border at the desk: the sheets, opened by touch or by their digit. */
export function DeskIndex({ at, go }: { at: string; go: ScreenProps['go'] }) {
  return (
    <SheetIndex
      fields={SHEETS.map((sheet) => ({ ...sheet, open: sheet.href === at }))}
      // The open sheet's own digit leaves the record on it alone.
      onOpen={(href) => href !== at && go(href)}
    />
  );
}

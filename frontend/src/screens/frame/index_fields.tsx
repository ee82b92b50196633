import { SheetIndex } from '../../furniture';
import type { ScreenProps } from '../../services/shop';

const SHEETS = [
  { name: 'At the airframe', href: '/airframe' },
  { name: 'Defect book', href: '/defects' },
  { name: 'Assessment', href: '/assessment' },
  { name: 'Stages', href: '/stages' },
  { name: 'Questions', href: '/questions' },
  { name: 'Reports', href: '/reports' },
  { name: 'Figures', href: '/figures' },
  { name: 'People', href: '/people' },
] as const;

/** Top border at the desk: the sheets, opened by touch or by their digit. */
export function DeskIndex(props: {
  at: string;
  go: ScreenProps['go'];
  /** How many questions of the book are open, where it is known. */
  asked?: number | undefined;
}) {
  const { at, go, asked } = props;
  const named = (name: string) => (name === 'Questions' && asked ? `${name} · ${asked}` : name);
  return (
    <SheetIndex
      fields={SHEETS.map(({ name, href }) => ({ name: named(name), href, open: href === at }))}
      // The open sheet's own digit leaves the record on it alone.
      onOpen={(href) => href !== at && go(href)}
    />
  );
}

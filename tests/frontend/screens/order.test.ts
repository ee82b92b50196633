import { describe, expect, it } from 'vitest';
import { noseToTail } from '../../../frontend/src/screens/defects/order';
import type { DefectRow, Definition } from '../../../frontend/src/services/shop';

const row = (number: string, station: string, member: string) =>
  ({
    record: `r${number}`,
    number,
    structure: 'Hull',
    station,
    member,
    state: 'Raised',
    kind_words: 'Pitting',
    place_words: `Hull · Port · ${member}`,
  }) as unknown as DefectRow;

const HULL = {
  structures: [
    {
      name: 'Hull',
      members: [
        { name: 'F6', station: '70' },
        { name: 'F12', station: '143' },
      ],
    },
  ],
} as unknown as Definition;

describe('the list of the defect book', () => {
  it('runs nose to tail by figures, not by letters, and names a member once', () => {
    const rows = [
      row('A/0003', '143.5', 'F12'),
      row('A/0001', '72.0', 'F6'),
      row('A/0002', '71', 'F6'),
    ];
    const listed = noseToTail(rows, HULL);
    expect(listed.map((one) => one.row.number)).toEqual(['A/0002', 'A/0001', 'A/0003']);
    expect(listed.map((one) => one.member?.name)).toEqual(['F6', undefined, 'F12']);
  });
});

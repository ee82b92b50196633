import { describe, expect, it } from 'vitest';
import type { Structure } from '../../../frontend/src/domain/place';
import { drawnHead } from '../../../frontend/src/screens/airframes/drawn_head';

const head = (positive: string, hand: 'P' | 'S', strakes: string[] = []) =>
  drawnHead({
    ...{ name: 'Wing', axis: 'WS', unit: 'mm', datum: '', positive, hands: [hand] },
    ...{ strakes, plating: [], faces: [], members: [] },
  } as Structure);

describe('what stands over the drawing while a structure is typed', () => {
  it.each(['P', 'S'] as const)('says of hand %s that outboard lies to the right', (hand) => {
    expect(head('outboard', hand)).toEqual({
      title: 'WING, INBOARD TO THE LEFT, OUTBOARD TO THE RIGHT',
      forward: null,
    });
    expect(head('inboard', hand).title).toBe('WING, OUTBOARD TO THE LEFT, INBOARD TO THE RIGHT');
  });

  it('points to the nose where stations run along the aircraft, whichever way they grow', () => {
    expect(head('aft', 'P', ['K', 'C'])).toEqual({
      title: 'WING, DEVELOPED, SEEN FROM OUTSIDE',
      forward: 'left',
    });
    expect(head('forward', 'P', ['K', 'C'])).toEqual({
      title: 'WING, DEVELOPED, SEEN FROM INSIDE',
      forward: 'right',
    });
  });

  it('says which way any other axis grows, and nothing before it is typed', () => {
    expect(head('up', 'S').title).toBe('WING, UP TO THE RIGHT');
    expect(head('', 'S').title).toBe('WING');
  });
});

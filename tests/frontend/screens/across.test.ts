// The keys across a structure are named after its own ends.
import { describe, expect, it } from 'vitest';
import type { Definition, Place, Structure } from '../../../frontend/src/domain/place';
import { acrossWords } from '../../../frontend/src/screens/airframe/across';
import marram from '../../../sample_data/skinpin_demo/data/definition_2603.json';
import second from '../../vectors/second_airframe.json';

const named = (definition: unknown, name: string) =>
  (definition as Definition).structures.find((one) => one.name === name) as Structure;
const at = (...strakes: string[]) => ({ strakes }) as unknown as Place;

describe('the keys across a structure', () => {
  it('lead to keel and chine on a hull, and to the deck once the chine is reached', () => {
    const hull = named(marram, 'Hull');
    expect(acrossWords(hull, at('K', 'B1'))).toEqual(['TO KEEL', 'TO CHINE']);
    expect(acrossWords(hull, at('B2', 'B3'))).toEqual(['TO KEEL', 'TO CHINE']);
    expect(acrossWords(hull, at('B3', 'C'))).toEqual(['TO KEEL', 'TO DECK']);
    expect(acrossWords(hull, at('S1', 'S2'))).toEqual(['TO KEEL', 'TO DECK']);
    expect(acrossWords(hull, {} as Place)).toEqual(['TO KEEL', 'TO CHINE']);
  });

  it('lead to its first and last stringer where it has those', () => {
    expect(acrossWords(named(second, 'Fuselage'), at('S-4', 'S-5'))).toEqual(['TO S-1', 'TO S-9']);
    const lettered = { strakes: ['A', 'B', 'C'] } as unknown as Structure;
    expect(acrossWords(lettered, at('A', 'B'))).toEqual(['TO A', 'TO C']);
  });

  it('speak of no keel on a wing, which has no lines across', () => {
    expect(acrossWords(named(marram, 'Port wing'), {} as Place)).toEqual([
      'STRAKE IN',
      'STRAKE OUT',
    ]);
  });
});

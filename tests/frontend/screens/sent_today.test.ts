import { expect, it } from 'vitest';
import { countedWords, lookWords } from '../../../frontend/src/screens/waiting/sent_today';

it('says of a bay where it is and whether it was looked at', () => {
  const cell = { structure: 'Hull', bay: ['F6', 'F7'], hand: 'P' };
  expect(lookWords({ cell, looked_at: true })).toBe('Hull F6–F7 port: looked at');
  const wing = { structure: 'Port wing', bay: ['R4', 'R5'], hand: 'P', face: 'upper skin' };
  const words = 'Port wing R4–R5 port, upper skin: not looked at, tank';
  expect(lookWords({ cell: wing, looked_at: false, blocked: 'tank' })).toBe(words);
});

it('counts the rest by kind', () => {
  expect([countedWords('photograph', 2), countedWords('rivet_line', 1)]).toEqual([
    '2 photographs',
    '1 rivet line',
  ]);
});

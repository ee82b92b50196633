import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { GRID_LETTERS } from '../../../frontend/src/furniture/sheet.tsx';

const ROOM = new URL('../../../frontend/src/furniture/', import.meta.url);
const TOKENS = readFileSync(new URL('tokens.css', ROOM), 'utf8');

function light(name: string): Record<string, string> {
  const block = TOKENS.split(`[data-light="${name}"] {`)[1]?.split('}')[0] ?? '';
  const pairs = [...block.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)];
  return Object.fromEntries(pairs.map((pair) => [pair[1] as string, pair[2] as string]));
}

/** Contrast of two colours: WCAG 2.2, "contrast ratio" and "relative luminance". */
function contrast(one: string, other: string): number {
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [
    number,
    number,
  ];
  return (light + 0.05) / (dark + 0.05);
}

function luminance(colour: string): number {
  const parts = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255);
  const [red, green, blue] = parts.map((part) =>
    part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4,
  ) as [number, number, number];
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

describe.each(['outside', 'inside'])('the light %s', (name) => {
  const colours = light(name);
  const of = (token: string) => colours[token] as string;

  it('writes every text colour at 7:1 or better on ground and on panel', () => {
    for (const token of ['ink', 'ink-2', 'draw', 'error', 'stamp', 'main'])
      for (const under of ['ground', 'panel'])
        expect(contrast(of(token), of(under)), `${token} on ${under}`).toBeGreaterThan(7);
  });

  it('draws thin lines at 3:1 or better', () => {
    for (const under of ['ground', 'panel'])
      expect(contrast(of('line-2'), of(under))).toBeGreaterThan(3);
  });
});

describe('numerals on grade fills', () => {
  const block = TOKENS.split(':root {')[1]?.split('}')[0] ?? '';
  const fill = (grade: number) =>
    block.match(new RegExp(`--grade-${grade}: (#\\w{6})`))?.[1] as string;

  it('keep 7:1, dark on 1 and 2, light on 3 and 4', () => {
    expect(contrast(fill(1), '#101510')).toBeGreaterThan(7);
    expect(contrast(fill(2), '#101510')).toBeGreaterThan(7);
    expect(contrast(fill(3), '#ffffff')).toBeGreaterThan(7);
    expect(contrast(fill(4), '#ffffff')).toBeGreaterThan(7);
  });

  it('grow steadily darker with the grade', () => {
    const tones = [1, 2, 3, 4].map((grade) => luminance(fill(grade)));
    expect([...tones].sort((a, b) => b - a)).toEqual(tones);
  });
});

describe('the sheet', () => {
  it('leaves I and O out of the grid letters', () => {
    expect(GRID_LETTERS.join('')).toBe('ABCDEFGHJKLMNPQRSTUVWXYZ');
  });

  it('sets no style attribute, which the server’s policy would refuse', () => {
    const sources = readdirSync(ROOM).filter((file) => file.endsWith('.tsx'));
    expect(sources.length).toBeGreaterThan(15);
    for (const file of sources)
      expect(readFileSync(new URL(file, ROOM), 'utf8'), file).not.toMatch(/\sstyle=/);
  });
});

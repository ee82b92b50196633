import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { type Definition, zoneOf, zonesOf } from '../../frontend/src/domain/place';
import definition_2603 from '../../sample_data/skinpin_demo/data/definition_2603.json';
import second from '../vectors/second_airframe.json';
import vectors from '../vectors/zone_points.json';
import { POINTS, pointsOn } from './random_points';

describe.each([
  ['Marram', definition_2603, vectors.Marram],
  ['in mm', second, vectors['in mm']],
])('ten thousand points on the airframe %s', (_, file, expected) => {
  const definition = file as unknown as Definition;

  it('lie in the zones that the other language finds', () => {
    const zones = pointsOn(definition, expected.seed).map((place) => zoneOf(definition, place));
    const counts: Record<string, number> = {};
    for (const zone of zones) counts[zone] = (counts[zone] ?? 0) + 1;
    expect(counts).toEqual(expected.zones);
    expect(createHash('sha256').update(zones.join('\n')).digest('hex')).toBe(expected.sha256);
  });

  it('lie each in exactly one zone, whatever the seed', () => {
    const seed = Math.floor(Math.random() * 2 ** 32);
    console.info(`seed ${seed}`);
    const places = pointsOn(definition, seed);
    expect(places).toHaveLength(POINTS);
    const twice = places.filter((place) => zonesOf(definition, place).length !== 1);
    expect(twice).toEqual([]);
  });
});

// What is said of when a photograph was taken.

import { expect, it } from 'vitest';
import { whenWords } from '../../../frontend/src/screens/photograph/pictures';

it('is the day of the camera, else when the tablet was handed it', () => {
  expect(whenWords({ day: '2025-03-08', received: null })).toBe('2025-03-08');
  expect(whenWords({ day: null, received: ['2025-11-03', '10:14'] })).toBe(
    'received 2025-11-03 10:14, camera gave no time',
  );
  expect(whenWords({ day: null, received: null })).toBe('day not known');
});

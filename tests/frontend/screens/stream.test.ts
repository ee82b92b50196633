import { describe, expect, it } from 'vitest';
import { grabSize, refusalOf } from '../../../frontend/src/screens/same_view/stream';

describe('the live view', () => {
  it('keeps what the camera shows, unless no canvas holds it', () => {
    expect(grabSize(3840, 2160)).toEqual([3840, 2160]);
    const [width, height] = grabSize(8064, 6048);
    expect(width * height).toBeLessThanOrEqual(16_700_000);
    expect(width / height).toBeCloseTo(4 / 3, 3);
  });

  it('says in a sentence why there is none', () => {
    const named = (name: string) => Object.assign(new Error(), { name });
    expect(refusalOf(named('NotAllowedError'))).toBe(
      'The browser does not let Skinpin use the camera.',
    );
    expect(refusalOf(named('constructor'))).toBe('The camera did not open (constructor).');
    expect(refusalOf('odd')).toBe('The camera did not open.');
  });
});

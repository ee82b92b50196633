import { describe, expect, it } from 'vitest';
import { sizeWords } from '../../../frontend/src/screens/same_view/live_stage.tsx';

describe('the live view', () => {
  it('says how fine the picture is that it keeps, beside that of the system’s camera', () => {
    expect(sizeWords([1600, 1200])).toBe(
      'Video frame 1600 × 1200 px; SYSTEM’S CAMERA takes the full picture.',
    );
    expect(sizeWords(null)).toBe('');
  });

  it('says the size that is kept where the camera shows more than a canvas holds', () => {
    const [, width, height] = /(\d+) × (\d+)/.exec(sizeWords([8064, 6048])) ?? [];
    expect(Number(width) * Number(height)).toBeLessThanOrEqual(16_700_000);
  });
});

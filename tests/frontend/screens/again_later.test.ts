// The sheet of a book worked out again comes when there is something to tell, and never too late.
// @vitest-environment happy-dom
import { describe, expect, it } from 'vitest';
import { againLater } from '../../../frontend/src/screens/frame/again_later';

const root = () => document.body.appendChild(document.createElement('div'));

describe('the sheet of a book that is worked out again', () => {
  it('is fetched and shows how far it is', async () => {
    const box = root();
    const { told } = againLater(box);
    expect(box.textContent).toBe('');
    told.tell({ done: 1200, of: 5000 });
    await expect.poll(() => box.textContent).toContain('1,200 of 5,000 records');
  });

  it('asks what to do when the work failed', async () => {
    const box = root();
    const answer = againLater(box).told.failed('The disk is full.');
    await expect.poll(() => box.textContent).toContain('Nothing is lost');
    box.querySelectorAll('button')[1]?.click();
    expect(await answer).toBe(false);
  });

  it('is not drawn over the app when it comes after the work is done', async () => {
    const box = root();
    const { told, end } = againLater(box);
    told.tell({ done: 1, of: 2 });
    end();
    await import('../../../frontend/src/screens/frame/again_sheet');
    await new Promise((done) => setTimeout(done, 50));
    expect(box.textContent).toBe('');
  });
});

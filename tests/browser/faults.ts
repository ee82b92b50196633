// What a person would stumble over on one sheet, whichever screen it is.
import type { Page } from 'playwright-core';

const FLOOR_PX = 48;
const MOST_STOPS = 400;

/** Return what is too wide, cut off or too small to touch, one line each. */
export function layoutFaults(page: Page): Promise<string[]> {
  return page.evaluate((floor_px) => {
    const found: string[] = [];
    const isShown = (one: Element) => one.checkVisibility({ visibilityProperty: true });
    // Words for those who listen only, and letters of the border for nobody in particular.
    const isSpokenOnly = (one: Element) => one.closest('.spoken, [aria-hidden=true]') !== null;
    const words = (one: Element) =>
      `${one.tagName.toLowerCase()}.${[...one.classList].join('.')} “${(one.getAttribute('aria-label') ?? one.textContent ?? '').trim().replace(/\s+/g, ' ').slice(0, 40)}”`;
    const { scrollWidth } = document.documentElement;
    if (scrollWidth > innerWidth)
      found.push(`scrolls sideways: ${scrollWidth} of ${innerWidth} px`);
    for (const one of document.querySelectorAll<HTMLElement>('body *')) {
      if (one instanceof SVGElement || !isShown(one) || isSpokenOnly(one)) continue;
      const has_text = [...one.childNodes].some(
        (node) => node.nodeType === 3 && node.nodeValue?.trim(),
      );
      const style = getComputedStyle(one);
      const wide = style.overflowX !== 'visible' && one.scrollWidth > one.clientWidth + 1;
      const high = style.overflowY !== 'visible' && one.scrollHeight > one.clientHeight + 1;
      const scrolls = /auto|scroll/.test(style.overflowX + style.overflowY);
      if (has_text && !scrolls && (wide || high)) found.push(`text cut off: ${words(one)}`);
    }
    const keys = 'button, [role="button"], summary, select, textarea, input';
    for (const one of document.querySelectorAll<HTMLElement>(keys)) {
      if (!isShown(one) || isSpokenOnly(one)) continue;
      // A box to tick is touched by its label.
      const touched = one.matches('[type=checkbox], [type=radio]')
        ? (one.closest('label') ?? one)
        : one;
      const { width, height } = touched.getBoundingClientRect();
      if (width < floor_px - 0.5 || height < floor_px - 0.5)
        found.push(
          `too small to touch: ${words(one)} ${Math.round(width)} × ${Math.round(height)}`,
        );
    }
    return found;
  }, FLOOR_PX);
}

/** Go through the sheet by Tab; return what cannot be reached, and what does not show that it is. */
export async function focusFaults(page: Page): Promise<string[]> {
  await page.evaluate(markStops);
  const unseen = new Set<string>();
  let rounds = 0;
  for (let at = 0; at < MOST_STOPS && rounds < 2; at += 1) {
    await page.keyboard.press('Tab');
    const step = await page.evaluate(noteStop);
    if (step.unseen) unseen.add(`focus does not show: ${step.unseen}`);
    if (step.left === 0) return [...unseen];
    if (step.is_outside) rounds += 1;
  }
  const missed = await page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('[data-stop=wanted]')].map((one) => {
      const name = one.getAttribute('aria-label') ?? one.textContent ?? '';
      return `not reached by Tab: ${one.tagName.toLowerCase()}.${[...one.classList].join('.')} “${name.trim().slice(0, 40)}”`;
    }),
  );
  return [...unseen, ...missed];
}

/** Runs in the page: marks what Tab must reach, and how each looks while it is not reached. */
function markStops(): void {
  (document.activeElement as HTMLElement | null)?.blur();
  const look = (one: Element): string =>
    [one, ...one.querySelectorAll('*')]
      .slice(0, 20)
      .flatMap((part) =>
        [null, '::before', '::after'].map((pseudo) => {
          const style = getComputedStyle(part, pseudo);
          const { outlineStyle, outlineWidth, boxShadow, stroke, strokeWidth } = style;
          return [outlineStyle, outlineWidth, boxShadow, stroke, strokeWidth].join();
        }),
      )
      .join(';');
  const looks = new WeakMap<Element, string>();
  const stops = 'a[href], button, input, select, textarea, summary, [tabindex]';
  for (const one of document.querySelectorAll<HTMLElement>(stops)) {
    const is_shown = one.checkVisibility({ visibilityProperty: true });
    if (!is_shown || one.tabIndex < 0 || one.matches(':disabled')) continue;
    if (one.matches('[type=radio]:not(:checked)')) continue; // arrows lead through a group
    one.dataset.stop = 'wanted';
    looks.set(one, look(one));
  }
  Object.assign(window, { looksOfStops: { look, looks } });
}

/** Runs in the page: notes where Tab has come to, and whether that shows. */
function noteStop() {
  const { look, looks } = (
    window as unknown as {
      looksOfStops: { look: (one: Element) => string; looks: WeakMap<Element, string> };
    }
  ).looksOfStops;
  const one = document.activeElement as HTMLElement | null;
  const is_outside = !one || one === document.body;
  let unseen: string | null = null;
  if (one && !is_outside) {
    one.dataset.stop = 'reached';
    if (looks.get(one) === look(one))
      unseen = `${one.tagName.toLowerCase()}.${[...one.classList].join('.')}`;
  }
  return { is_outside, unseen, left: document.querySelectorAll('[data-stop=wanted]').length };
}

import { useState } from 'preact/hooks';

export type Light = 'outside' | 'inside';
const NAME = 'skinpin.light';

/** Puts the light chosen last on the page. */
export function showLight(): Light {
  const light = kept() === 'inside' ? 'inside' : 'outside';
  document.documentElement.dataset.light = light;
  return light;
}

/** The light and the way to change it; never by itself. */
export function useLight(): [Light, () => void] {
  const [light, setLight] = useState<Light>(showLight);
  const change = () => {
    const next = light === 'inside' ? 'outside' : 'inside';
    try {
      localStorage.setItem(NAME, next);
    } catch {
      // A browser that keeps nothing still shows the light until it is closed.
    }
    document.documentElement.dataset.light = next;
    setLight(next);
  };
  return [light, change];
}

function kept(): string | null {
  try {
    return localStorage.getItem(NAME);
  } catch {
    return null;
  }
}

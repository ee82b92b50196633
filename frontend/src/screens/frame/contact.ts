import { useEffect, useState } from 'preact/hooks';
import type { ExchangeState, Shop } from '../../services/shop';

/** How the exchange with the server stands, followed as it changes. */
export function useExchange(shop: Shop): ExchangeState {
  const [state, setState] = useState(shop.exchange.state);
  useEffect(() => shop.subscribe(() => setState({ ...shop.exchange.state })), [shop]);
  return state;
}

/** "Last contact with the server: 4 minutes ago." */
export function contactWords(state: ExchangeState, now: number): string {
  if (state.last_contact_ms === null) return 'No contact with the server yet.';
  const minutes = Math.round((now - state.last_contact_ms) / 60_000);
  if (minutes < 1) return 'Last contact with the server: just now.';
  if (minutes < 120) return `Last contact with the server: ${minutes} minutes ago.`;
  const hours = Math.round(minutes / 60);
  if (hours < 48) return `Last contact with the server: ${hours} hours ago.`;
  return `Last contact with the server: ${Math.round(hours / 24)} days ago.`;
}

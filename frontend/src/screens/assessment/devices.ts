import { useEffect, useState } from 'preact/hooks';
import type { Json, Shop } from '../../services/shop';
import { type DeviceListed, type TabletShown, tabletsShown } from '../../services/tablets';
import { useExchange } from '../frame/contact';
import { useLive } from '../live';

const NAME = 'assessment/devices';

export interface DevicesAsked {
  devices: DeviceListed[] | null;
  /** When the server said so, ms; null: it never did on this browser. */
  at_ms: number | null;
}

/** Tablets as the server lists them to a lead; away from it, as it said last. */
export function useTablets(shop: Shop): { tablets: TabletShown[]; at_ms: number | null } {
  const [asked, setAsked] = useState<DevicesAsked>({ devices: null, at_ms: null });
  const records = useLive(shop, () => shop.book.records('tablet'), []) ?? [];
  const rows = useLive(shop, () => shop.book.defects(), []) ?? [];
  const { last_contact_ms } = useExchange(shop);
  const { session } = shop;
  useEffect(() => {
    if (session?.role !== 'lead') return;
    ask(shop, session).then(setAsked, () => undefined);
  }, [shop, session?.person, session?.online, last_contact_ms]);
  // The letter of records from paper is no tablet's.
  const real = records.filter(({ paper }) => paper !== true);
  const tablets = tabletsShown(real, rows, asked.devices, shop.today());
  return { tablets, at_ms: asked.at_ms };
}

async function ask(shop: Shop, session: NonNullable<Shop['session']>): Promise<DevicesAsked> {
  try {
    if (!session.online) throw new Error('not signed in at the server');
    const devices = await shop.api.get<DeviceListed[]>('/api/devices');
    const found = { devices, at_ms: shop.now() };
    await shop.drafts.write(session, NAME, found as unknown as Json);
    return found;
  } catch {
    // Away, or not signed in at the server: what it said last is shown with its age.
    const kept = await shop.drafts.read(session, NAME);
    return (kept as unknown as DevicesAsked | null) ?? { devices: null, at_ms: null };
  }
}

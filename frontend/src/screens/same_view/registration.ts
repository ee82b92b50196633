import { useState } from 'preact/hooks';
import { fitOf, type SameView, viewOf } from '../../domain/same_view';
import type { Json, Shop } from '../../services/shop';
import { sizeOf } from './touching';
import type { ViewPicture } from './view_pictures';

interface Answer {
  to_other: number[] | null;
  inliers: number;
  cells: number;
  offered: boolean;
  reason: string;
}

export interface Offer {
  view: SameView;
  fit: Json;
  words: string;
}

export interface Registration {
  /** What the server offers for these two; nothing of it is stored. */
  offer: Offer | null;
  /** Why it offers nothing. */
  reason: string | null;
  ask: () => Promise<void>;
  leave: () => void;
}

/** Asks the server to lay one photograph on the other; a person accepts or leaves it. */
export function useRegistration(
  shop: Shop,
  earlier: ViewPicture | null,
  here: ViewPicture | null,
): Registration {
  const [told, setTold] = useState<{ pair: string; answer: Answer } | null>(null);
  const pair = `${here?.sha256} ${earlier?.sha256} ${here?.mirrored} ${earlier?.mirrored}`;
  const answer = told?.pair === pair ? told.answer : null;
  const offer = answer && earlier && here ? offerOf(answer, earlier, here) : null;
  return {
    offer,
    reason: answer && !answer.offered ? answer.reason : null,
    ask: async () => {
      if (!earlier || !here) return;
      setTold(null);
      const body = {
        with: earlier.sha256,
        mirrored: here.mirrored,
        with_mirrored: earlier.mirrored,
      };
      const path = `/api/photographs/${here.sha256}/register`;
      setTold({ pair, answer: await shop.api.post<Answer & Json>(path, body) });
    },
    leave: () => setTold(null),
  };
}

function offerOf(answer: Answer, earlier: ViewPicture, here: ViewPicture): Offer | null {
  if (!answer.offered || !answer.to_other) return null;
  const view = viewOf(answer.to_other, sizeOf(here), sizeOf(earlier));
  return {
    view,
    fit: fitOf(view, 'registration') as unknown as Json,
    words: `The server lays it so: ${answer.inliers} places agree, in ${answer.cells} of 9 fields. Look whether the metal itself does, then accept it or leave it.`,
  };
}

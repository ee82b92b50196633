import { viewPoint } from '../../domain/place';
import { ViewFrame } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { DrawnView } from '../frame/drawn_view';
import { OnSheet } from './on_sheet';

/** Where it lies: the view of its structure with a ringed point, led to its picture. */
export function Where({ shop, row }: { shop: Shop; row: DefectRow }) {
  const { definition } = shop;
  const own = definition?.views.filter((one) => one.structure === row.structure && one.lines) ?? [];
  const view = own.find((one) => one.name === 'hull profile') ?? own[0];
  if (!definition || !view || !row.place) return <p class="no-view">No view of this structure.</p>;
  return (
    <>
      <ViewFrame
        title={view.title}
        fwd={view.forward ?? 'left'}
        second={isFarSide(view.seen_from, row.hand) ? 'place on the far side' : undefined}
      >
        <DrawnView
          view={view}
          point={pointOn(view, definition, row.place)}
          end={row.place.to ? pointOn(view, definition, otherEnd(row.place)) : null}
          led={row.photographs > 0}
          cropped
          spoken={`${view.title}: ${row.number} at ${row.place_words}`}
        />
      </ViewFrame>
      <OnSheet {...{ shop, row }} />
    </>
  );
}

/** Seen from port, a place to starboard lies behind the drawing, and the other way round. */
function isFarSide(seen_from: string | undefined, hand: string | null): boolean {
  return (seen_from === 'port' && hand === 'S') || (seen_from === 'starboard' && hand === 'P');
}

type Place = NonNullable<DefectRow['place']>;

/** The place where one that reaches from here to there ends. */
function otherEnd({ to, ...place }: Place): Place {
  const { member = place.member, offset = { value: '0', unit: place.offset.unit } } = to ?? {};
  return { ...place, member, offset };
}

function pointOn(
  view: Parameters<typeof viewPoint>[0],
  definition: Parameters<typeof viewPoint>[1],
  place: Place,
): { x: number; y: number } | null {
  try {
    const [x, y] = viewPoint(view, definition, place);
    return { x, y };
  } catch {
    return null;
  }
}

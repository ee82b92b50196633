import type { TakeNeed } from '../../services/shop';
import type { ZoneRow } from '../reports/zones';
import { hereCounts } from './words';
import '../frame/zone_button.css';

/** Zones with photographs, and how many are here; the same choice as on the drawing. */
export function ZoneKeys(props: {
  zones: readonly ZoneRow[];
  needs: Record<string, TakeNeed>;
  chosen: readonly string[];
  onChoose: (zone: string) => void;
}) {
  const { needs, chosen } = props;
  const shown = props.zones.filter(({ zone }) => needs[zone] || chosen.includes(zone));
  return (
    <section class="take-part" aria-label="Zones">
      <h2>Touch the zones to take photographs of; here are</h2>
      {shown.length === 0 && <p>No zone has a photograph yet.</p>}
      <ul class="take-zones">
        {shown.map(({ zone, title }) => (
          <li key={zone}>
            <button
              type="button"
              class="zone-button take-zone"
              aria-pressed={chosen.includes(zone)}
              title={title}
              onClick={() => props.onChoose(zone)}
            >
              <b>{zone}</b> <span>{needs[zone] ? hereCounts(needs[zone]) : 'none'}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

import { type ZoneRow, zoneWords } from './zones';
import '../frame/zone_button.css';

/** Every zone with what its report will hold; each is chosen by itself. */
export function ZoneList(props: {
  zones: readonly ZoneRow[];
  chosen: readonly string[];
  onChoose: (zone: string) => void;
}) {
  return (
    <ul class="zone-list" aria-label="Zones">
      {props.zones.map((zone) => (
        <li key={zone.zone}>
          <button
            type="button"
            class="zone-button zone-row"
            aria-pressed={props.chosen.includes(zone.zone)}
            onClick={() => props.onChoose(zone.zone)}
          >
            <b class="zone-number">{zone.zone}</b>
            <span class="zone-title">{zone.title}</span>
            <span class="zone-second">{zoneWords(zone)}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

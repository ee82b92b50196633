import type { View } from '../../domain/place';
import type { Json } from '../../services/shop';
import type { PartProps } from './described';

/** Every drawing that the definition holds: made by code, drawn, or a picture with its calibration. */
export function Drawings({ checked, name }: PartProps) {
  const views = checked.defined?.definition.views ?? [];
  return (
    <>
      <table class="drawings-table">
        <thead>
          <tr>
            <th>Drawing</th>
            <th>Structure</th>
            <th>Sheet, issue</th>
            <th>How places lie on it</th>
          </tr>
        </thead>
        <tbody>
          {views.map((view) => (
            <tr key={view.name}>
              <th scope="row">
                {view.picture ? (
                  <a href={drawingAddress(name, view.name)}>{view.title}</a>
                ) : (
                  view.title
                )}
              </th>
              <td>{view.structure}</td>
              <td>{sheetWords(view)}</td>
              <td>{laidWords(view)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="part-hint">
        A developed view is drawn by code from members and strakes, for each structure that nobody
        has drawn: places, looks and reports stand on it from the first issue on.
      </p>
      <a class="drawings-link" href={drawingAddress(name, 'new')}>
        ADD A DRAWING OR PHOTOGRAPH
      </a>
    </>
  );
}

/** Where a drawing is calibrated. */
function drawingAddress(airframe: string, view: string): string {
  return `/airframes/${encodeURIComponent(airframe)}/drawings/${encodeURIComponent(view)}`;
}

interface Pictured {
  sheet?: string;
  issue?: string;
  picture?: Json;
  calibration?: { method: string; rms?: number | string; by?: string; date?: string };
}

function sheetWords(view: View): string {
  const { sheet, issue } = view as View & Pictured;
  return sheet ? `${sheet}, ${issue ?? '–'}` : '–';
}

function laidWords(view: View): string {
  const { calibration } = view as View & Pictured;
  if (calibration)
    return `${calibration.method}, ${[calibration.by, calibration.date].filter(Boolean).join(', ')}`;
  return view.name.endsWith(', developed') ? 'drawn by code' : 'drawn';
}

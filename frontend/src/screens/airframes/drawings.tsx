import type { View } from '../../domain/place';
import type { Json } from '../../services/shop';
import { errorWords } from '../drawings/known';
import type { PartProps } from './described';

/** Every drawing that the definition holds: made by code, drawn, or a picture with its calibration. */
export function Drawings({ checked, name }: PartProps) {
  const { views = [], structures = [] } = checked.defined?.definition ?? {};
  const unitOf = (name: string) => structures.find((one) => one.name === name)?.unit ?? 'in';
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
              <td>{laidWords(view, unitOf(view.structure))}</td>
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
  calibration?: {
    method: string;
    rms?: number | string;
    check_error?: number | string | null;
    by?: string;
    date?: string;
  };
}

function sheetWords(view: View): string {
  const { sheet, issue } = view as View & Pictured;
  return sheet ? `${sheet}, ${issue ?? '–'}` : '–';
}

/** How places lie on a view: of a picture its fit, and what proves it or that nothing does. */
export function laidWords(view: View, unit: string): string {
  const { calibration } = view as View & Pictured;
  if (calibration) {
    const { method, rms, check_error, by, date } = calibration;
    const proof =
      check_error == null
        ? 'no check point: nothing proves it'
        : `check point ${errorWords(Number(check_error), unit)} off`;
    const residual = rms == null ? '' : `residual ${errorWords(Number(rms), unit)}`;
    return [method, residual, proof, by, date].filter(Boolean).join(', ');
  }
  return view.name.endsWith(', developed') ? 'drawn by code' : 'drawn';
}

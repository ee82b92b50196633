import { overtakenWords } from '../../domain/stamp_words';
import type { DefectRow } from '../../services/shop';
import './overtaken_line.css';

/** Which stamp was overtaken, why, and what to do, wherever a record was cleared and is not. */
export function OvertakenLine({ row }: { row: DefectRow }) {
  const words = overtakenWords(row);
  return words ? <p class="overtaken-line">{words}</p> : null;
}

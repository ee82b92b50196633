import { createContext } from 'preact';

/** Units of the drawing to one px of the screen: 1 on the sheet, more on a large photograph. */
export const PictureScale = createContext(1);

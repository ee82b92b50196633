/** Makes modules of the marker library, whose files hand things on through `this`. */

import type { Plugin } from 'vite';

/** Each file as it is, its `this` and `require` said in words a bundler knows. */
export function arucoAsModules(): Plugin {
  return {
    name: 'aruco-as-modules',
    enforce: 'pre',
    transform(code, id) {
      if (id.endsWith('js-aruco2/src/cv.js')) {
        return `${without(code, 'this.CV = CV;')}\nexport { CV };`;
      }
      if (!id.endsWith('js-aruco2/src/aruco.js')) return null;
      const own = without(code, "var CV = this.CV || require('./cv').CV;");
      return `import { CV } from './cv.js';\n${without(own, 'this.AR = AR;')}\nexport default { AR };`;
    },
  };
}

function without(code: string, words: string): string {
  if (!code.includes(words)) throw new Error(`js-aruco2 no longer says: ${words}`);
  return code.replace(words, '');
}

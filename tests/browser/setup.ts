// Runs once before all journeys: the page must be built, the demo book loaded.
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    root: string;
    demoBook: string;
  }
}

export default function setup(project: TestProject): void {
  const root = project.config.root;
  if (!existsSync(join(root, 'backend/skinpin/web/static/index.html'))) {
    throw new Error('The page is not built. Run: npm run build');
  }
  const python = join(root, '.venv/bin/python');
  const said = execFileSync(python, ['-m', 'tests.ready_book'], { cwd: root, encoding: 'utf8' });
  project.provide('root', root);
  project.provide('demoBook', said.trim());
}

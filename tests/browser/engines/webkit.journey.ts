import { describe } from 'vitest';
import { onePit } from './pit';
import { startWebkit } from './webkit';

describe('one pit in WebKit', () => onePit('webkit', startWebkit));

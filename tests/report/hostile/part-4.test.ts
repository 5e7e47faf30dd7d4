import { describeHostilePages } from './pages.js';

describeHostilePages(1, 'perfusion');

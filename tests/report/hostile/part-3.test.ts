import { describeHostilePages } from './pages.js';

describeHostilePages(0, 'perfusion');

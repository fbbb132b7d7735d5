import { render } from 'preact';
import { openEvents } from './ask/events';
import { App } from './frame/app';
import { applyKeptTheme } from './frame/theme';
import './look/paper.css';
import './look/frame.css';
import './look/order.css';
import './look/drawing.css';
import './look/plan.css';
import './look/bench.css';
import './look/parts.css';
import './look/lists.css';
import './look/asked.css';
import './look/print.css';

applyKeptTheme();
openEvents();
const page = document.getElementById('page');
if (page) render(<App />, page);

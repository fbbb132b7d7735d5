import type { ShopView } from '../ask/ask';
import { say } from '../words/say';
import { FindBox } from './find_box';
import type { Route } from './route';
import { useTheme } from './theme';

type Room = 'Today' | 'Orders' | 'Parts' | 'Plan' | 'Bench' | 'Records';

const kRooms: [Room, string][] = [
  ['Today', '/'], ['Orders', '/orders'], ['Parts', '/parts'], ['Plan', '/plan'], ['Bench', '/bench'],
  ['Records', '/records'],
];

const kRoomOf: Record<Route['page'], Room | undefined> = {
  'today': 'Today', 'orders': 'Orders', 'new order': 'Orders', 'order': 'Orders', 'wheel card': 'Orders', 'plan': 'Plan',
  'bench': 'Bench', 'labels': 'Bench', 'aids': 'Bench', 'aid': 'Bench', 'truing': 'Bench', 'bench sheet': 'Bench', 'printed sheet': 'Bench', 'parts': 'Parts', 'buy': 'Parts', 'small stock': 'Parts', 'arrivals': 'Parts', 'arrival': 'Parts',
  'to measure': 'Parts', 'take in list': 'Parts', 'part': 'Parts', 'records': 'Records', 'history': 'Records', 'trace': 'Records', 'maker': 'Orders', 'care': 'Orders', 'coming back': 'Orders', 'recalls': 'Records', 'recall': 'Records', 'kept promises': 'Records', 'times taken': 'Records', 'load': 'Plan', 'sign in': undefined, 'bench sign in': undefined, 'first owner': undefined, 'people': undefined, 'nothing': undefined,
};

export function Header({ route, shop }: { route: Route; shop: ShopView | undefined }) {
  const [theme, turn] = useTheme();
  const other = theme === 'paper' ? say.theme.night : say.theme.paper;
  const room = kRoomOf[route.page];
  return (
    <header class="head">
      <a class="brand" href="/" title={shop?.name}>Rollwright</a>
      <nav aria-label={say.nav.label}>
        <ul>
          {kRooms.map(([name, path]) => (
            <li key={name}>
              <a href={path} aria-current={room === name ? 'page' : undefined}>{say.nav[name]}</a>
            </li>
          ))}
        </ul>
      </nav>
      <FindBox />
      <button type="button" class="theme" onClick={turn} aria-label={say.theme.turn(other)}>
        {other}
      </button>
    </header>
  );
}

/** Before anybody is signed in there is nowhere to go. */
export function OutsideHeader() {
  const [theme, turn] = useTheme();
  const other = theme === 'paper' ? say.theme.night : say.theme.paper;
  return (
    <header class="head outside">
      <span class="brand">Rollwright</span>
      <button type="button" class="theme" onClick={turn} aria-label={say.theme.turn(other)}>{other}</button>
    </header>
  );
}

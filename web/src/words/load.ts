import { plain } from './amount';
import { dayShort } from './day';

/** Words of the weeks ahead. */
export const loadWords = {
  title: 'Load',
  lead: 'Hours of hands on bikes in the weeks ahead: what the plan puts into them, of what the people have. What walk-ins take is left out on both sides.',
  link: 'Load by week', back: 'Wall plan',
  bySkill: 'By skill', byPerson: 'By person', skill: 'Work', person: 'Person',
  bySkillHow: 'People are counted in every row of work they can do; so a row alone looks emptier than it is. The last two rows count everybody once.',
  week: (first: string, last: string) => `${dayShort(first)} to ${dayShort(last)}`,
  hours: (planned: number, there: number) => `${plain(planned, 1)} of ${plain(there, 1)}\u00a0h`,
  nobody: 'nobody there', away: 'not there', full: 'full', over: 'too much',
  fullest: 'Fullest people', promisedBy: 'Promised by the week’s end', due: 'Promised in the week',
  group: (in100: number | null) => (in100 === null ? 'nobody there' : `${in100} of 100 hours`),
  groupWhy: (people: string[], skills: string[], work: number, hours: number) =>
    `${people.join(', ')}: ${plain(work, 1)} of ${plain(hours, 1)}\u00a0h, ${skills.join(', ')}`,
  promisedHow: 'Promised by the week’s end: all work still to do of bikes promised until then, for the people with the least room, in their hours from now on. Above 100 a promise breaks, in whatever sequence the work is done.',
  none: 'No work is open.', noneDue: 'none',
};

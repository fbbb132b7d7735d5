/** Words of signing in, of people and of stations. */
const kRoles: Record<string, string> = {
  owner: 'everything, and people',
  desk: 'orders, parts, purchases, the plan',
  bench: 'their own work, goods-in, reading and measuring; looking at everything',
};

export const people = {
  roleMay: (role: string) => kRoles[role] ?? 'nothing yet',

  line: {
    label: 'Who is signed in',
    open: 'Nobody has to sign in yet:', make: 'make the owner',
    atDesk: (name: string) => `${name} is signed in`,
    atBench: (name: string, station: string) => `${name} is at ${station}`,
    people: 'People', mine: 'Password and PIN', out: 'Sign out', change: 'Somebody else',
  },

  signIn: {
    title: 'Sign in', who: 'Sign-in name', whoHint: 'A short word, as in lene. The owner finds it under People.',
    password: 'Password', go: 'Sign in', going: 'Looking …',
    toBench: 'To the bench',
    forgotten: 'Forgotten? The owner sets a new one under People. An owner without one says “rollwright set-password” on the machine that holds the book.',
  },

  bench: {
    title: 'Who is at the bench?', titleOf: (name: string) => name,
    lead: 'Touch your name, or scan your label.',
    nobody: 'Nobody of the bench has a PIN yet. The owner sets one under People.',
    pad: 'Number pad', shown: (n: number) => (n === 0 ? 'no digit yet' : n === 1 ? '1 digit' : `${n} digits`),
    erase: 'Erase', go: 'Sign in', other: 'Somebody else', byPassword: 'Sign in with a password',
    noStation: 'This device is no station of the bench. The owner makes it one: sign in here as owner, then People.',
  },

  first: {
    title: 'Make the owner',
    lead: 'Until there is an owner with a password, everybody at this machine may do everything, and no other machine sees the pages. From then on everybody signs in, and each entry of the journal names who wrote it.',
    who: 'The owner', somebodyNew: 'Somebody new', name: 'Name',
    password: 'Password', passwordHint: 'At least 10 characters: a few words that do not belong together.',
    again: 'The password again', differ: 'The two are not the same.', go: 'Make the owner',
    over: 'There is an owner already, who signs in and sees to everybody else.',
  },

  page: {
    title: 'People', mineTitle: 'Password and PIN',
    lead: 'Who may what comes from the shop’s files. Here each person gets what they sign in with.',
    person: 'Person', signsIn: 'Signs in as', may: 'May', password: 'Password', pin: 'PIN',
    change: 'Change', isSet: 'set', notSet: 'none',
    setPassword: 'Set password', setPin: 'Set PIN', takeAway: 'Take away',
    of: (what: string, name: string) => `${what}: ${name}`,
    newPassword: 'New password', newPin: 'New PIN, 4 to 8 digits', again: 'The same again', differ: 'The two are not the same.',
    yours: 'Your own password', yoursHint: 'So that nobody does this at a desk you left.',
    save: 'Keep it', leave: 'Leave it', takeAwaySure: (name: string) => `${name} will be signed out everywhere and cannot sign in until a new password or PIN is set.`,
    saved: (name: string) => `Kept for ${name}.`, taken: (name: string) => `${name} cannot sign in any more.`,
    roles: 'What the roles may',
    stations: 'Stations of the bench', stationsLead: 'A tablet at the bench where people change by PIN. It stays one until the server is started again, two weeks pass without use, or it is let go.',
    noStations: 'No tablet is a station yet.', pairedBy: (who: string) => `made by ${who}`, letGo: 'Let go',
    pairTitle: 'Make this device a station', pairLead: 'At the tablet itself: you are signed out here, and the bench signs in by PIN.',
    pairName: 'Name of the station', pairExample: 'As in “Bench by the door”.', pair: 'Make it a station',
    atBench: 'At a station only the PIN is asked for. Sign in with your password at the desk to change it.',
  },
};

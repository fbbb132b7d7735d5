import { Component, type ComponentChildren } from 'preact';

/** Whether two sets of properties hold the very same values. */
function shallowSame(a: object, b: object): boolean {
  const [one, two] = [a as Record<string, unknown>, b as Record<string, unknown>];
  const names = Object.keys(one);
  return names.length === Object.keys(two).length && names.every((name) => one[name] === two[name]);
}

/** The same view, drawn again only when one of its properties is another value. */
export function memo<P extends object>(View: (props: P) => ComponentChildren) {
  return class Kept extends Component<P> {
    override shouldComponentUpdate(next: Readonly<P>) {
      return !shallowSame(this.props, next);
    }
    override render() {
      return <View {...this.props} />;
    }
  };
}

/** What a build writes in its place: the list of what a phone keeps, by kb/publish/site/offline/phone_copy.py. */
export const COPY: {
  readonly hash: string;
  readonly date: string;
  readonly built: string;
  readonly families: number;
  readonly files: Readonly<Record<string, string>>;
};

/** A host and a port as people and programs write them in an address: an IPv6 address stands in brackets (RFC 3986, 3.2.2). */
export const addressOf = (scheme: 'http' | 'mqtt', host: string, port: number): string => `${scheme}://${host.includes(':') ? `[${host}]` : host}:${port}`;

/** The address by which this machine itself reaches a listener; "every address" is one to listen on, not one to call. */
export const fromHere = (url: string): string => url.replace('//0.0.0.0:', '//127.0.0.1:').replace('//[::]:', '//[::1]:');

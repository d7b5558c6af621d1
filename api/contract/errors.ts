/**
 * The one catalogue of error codes and the one map to HTTP. Every failure the API answers has a code from here;
 * a screen shows the title, then the detail (what happened, what was kept, what to do).
 */
export const errors = {
  'not-json': { status: 400, title: 'The request is not JSON' },
  'bad-request': { status: 400, title: 'The request makes no sense' },
  'bad-query': { status: 422, title: 'The query does not make sense' },
  'not-signed-in': { status: 401, title: 'Sign in first' },
  'wrong-password': { status: 401, title: 'Name or password is wrong' },
  'not-allowed': { status: 403, title: 'Your role may not do this' },
  'wrong-setup-code': { status: 403, title: 'The set-up code is wrong' },
  'wrong-code': { status: 403, title: 'This code opens nothing' },
  'not-found': { status: 404, title: 'There is no such thing here' },
  'already-exists': { status: 409, title: 'This name is taken' },
  'already-set-up': { status: 409, title: 'An owner is there already' },
  'drum-occupied': { status: 409, title: 'The drum holds another batch' },
  'wrong-state': { status: 409, title: 'This cannot be done now' },
  'ph-above-limit': { status: 409, title: 'The pH is above the limit' },
  'ph-unknown': { status: 409, title: 'The pH is not known' },
  'cold-plan-too-warm': { status: 409, title: 'This is not cold enough' },
  'cold-plan-needs-acid': { status: 409, title: 'Cold alone is not enough' },
  'on-hold': { status: 409, title: 'The lot is on hold' },
  'deviation-open': { status: 409, title: 'A deviation is open' },
  recalled: { status: 409, title: 'The lot is recalled' },
  'not-jarred': { status: 409, title: 'The lot is not in jars' },
  'nothing-held': { status: 409, title: 'Nothing is held' },
  'packed-jar-rule': { status: 409, title: 'The packed jars do not show it yet' },
  'packed-jars-outside': { status: 409, title: 'The packed jars are outside the limit' },
  'packed-jars-unknown': { status: 409, title: 'The pH of the packed jars is not known' },
  'not-in-stock': { status: 409, title: 'So many jars are not there' },
  'label-incomplete': { status: 409, title: 'The label lacks something' },
  'label-does-not-fit': { status: 422, title: 'The label is too small for its words' },
  'key-used': { status: 409, title: 'This key belongs to another act' },
  'too-large': { status: 413, title: 'The request is too large' },
  'not-json-type': { status: 415, title: 'Send application/json' },
  'does-not-fit': { status: 422, title: 'The request does not fit' },
  'outside-valid-range': { status: 422, title: 'Outside the range this is known for' },
  'too-many-tries': { status: 429, title: 'Too many tries' },
  'too-many-listeners': { status: 503, title: 'Too many screens are listening' },
  'not-ready': { status: 503, title: 'Not ready' },
  internal: { status: 500, title: 'Something went wrong inside' },
} as const;

export type ErrorCode = keyof typeof errors;

export const errorCodes = Object.keys(errors) as readonly ErrorCode[];

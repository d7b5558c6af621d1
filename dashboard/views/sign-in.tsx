export const SignInView = () => <main>sign in</main>;

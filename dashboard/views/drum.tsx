export const DrumView = ({ drum }: { readonly drum: string }) => <main>{drum}</main>;

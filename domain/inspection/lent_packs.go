package inspection

// MostPacks bounds how many packs are added at once.
const MostPacks = 500

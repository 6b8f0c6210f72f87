namespace ShopFloor.Domain.Orders;

/// <summary>What a person agreed to, with the wording, so that it can be shown later.</summary>
/// <param name="What"><c>risk</c>, <c>picture rights</c>, <c>contact data</c> or <c>coarse picture, line 1</c>: told that it is too coarse for its size; in earlier orders without the line, for all of them.</param>
/// <param name="WordingVersion">Version of the text that was shown.</param>
/// <param name="Language">Language it was shown in.</param>
/// <param name="At">When, UTC.</param>
/// <param name="By">Who entered it: a worker's id, or the device.</param>
public sealed record Agreement(string What, string WordingVersion, string Language, DateTimeOffset At, string By);

namespace ShopFloor.Web.Counter;

/// <summary>
/// Marks the texts of the Counter. The English sentence itself is the key; a further language is a file
/// <c>CounterTexts.xx.resx</c> beside this one, complete or not listed.
/// </summary>
public sealed class CounterTexts;

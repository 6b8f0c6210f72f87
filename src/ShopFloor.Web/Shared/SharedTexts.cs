namespace ShopFloor.Web.Shared;

/// <summary>
/// Marks the texts of the frame and of the shared controls. The English sentence itself is the key;
/// a further language is a file <c>SharedTexts.xx.resx</c> beside this one.
/// </summary>
public sealed class SharedTexts;

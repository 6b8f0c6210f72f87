namespace ShopFloor.Web.Office;

/// <summary>Key for the Office's texts.</summary>
public sealed class OfficeTexts;
